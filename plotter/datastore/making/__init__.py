"""How our tables are made from the open datasets' own, for the builder and for a refresh alike."""
