"""Where the tables and the store lie on this machine."""
