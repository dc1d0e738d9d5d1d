"""Pages on paper, true to scale in millimetres."""
