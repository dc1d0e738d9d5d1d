"""What the open datasets know, asked of an open store."""
