"""A route as it is typed, read into waypoints: text, points, what names nothing."""
