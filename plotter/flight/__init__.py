"""What is flown along a route: wind, airspeed, heading, climb, fuel, and the rules of a flight."""
