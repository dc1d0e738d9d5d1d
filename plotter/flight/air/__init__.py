"""The air a flight goes through: levels, pasted forecasts, stations, the sky along the way."""
