"""The paper chart as a measuring surface: its scale, its projection, a reading taken from it."""
