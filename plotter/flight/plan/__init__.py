"""A plan of a flight: its values, and the file they are read from and written to."""
