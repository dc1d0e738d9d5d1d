"""What is true of the planet and of angles: no airport, no aircraft."""
