"""The door from the command line: parses and prints, no arithmetic."""
