"""What is drawn: a typed route, its legs, its checkpoints, its cautions."""
