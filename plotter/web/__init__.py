"""The local planning page and its JSON: parses, asks the library, prints; no arithmetic."""
