"""What every key of a plan file is called on the page, and the unit beside its field."""

from __future__ import annotations

from collections.abc import Mapping

AIRSPEED = "airspeed"
LABELS: Mapping[str, Mapping[str, str]] = {
    "flight": {
        "name": "Name of the flight",
        "route": "Route",
        "departure": "Take-off",
        "cruise_altitude_ft": "Altitude",
        "checkpoints_every_nm": "Checkpoint every",
        "checkpoints_every_min": "Checkpoint by time, every",
        "checkpoints_restart": "Count afresh at turning points",
        "line": "Legs",
        "points": "File of own points",
        "visual_rules": "Cruising altitudes by the table of",
        "aircraft_category": "Reserve by the rule for",
        "lands_on_water": "May land on water",
    },
    "stop": {
        "point": "Lands at",
        "ground_min": "On the ground",
        "fuel_added": "Fuel taken on",
        "full_stop": "To a full stop",
    },
    "aircraft": {
        "name": "Aircraft",
        "true_airspeed_kt": "True airspeed",
        "calibrated_airspeed_kt": "Calibrated airspeed",
        "cruise_fuel_per_hour": "Fuel an hour, cruise",
        "fuel_unit": "Fuel in",
        "usable_fuel": "Usable",
        "fuel_on_board": "Fuel on board",
        "taxi_fuel": "Taxi",
        "climb_rate_fpm": "Rate of climb",
        "climb_true_airspeed_kt": "True airspeed, climb",
        "climb_calibrated_airspeed_kt": "Calibrated airspeed, climb",
        "climb_fuel_per_hour": "Fuel an hour, climb",
        "descent_rate_fpm": "Rate of descent",
        "descent_true_airspeed_kt": "True airspeed, descent",
        "descent_calibrated_airspeed_kt": "Calibrated airspeed, descent",
        "descent_fuel_per_hour": "Fuel an hour, descent",
        "pattern_height_ft": "Descent ends above the field by",
        "climb_table": "Climb table",
        "cruise_table": "Cruise table",
        "compass_card": "Compass correction card",
    },
    "aircraft.climb_table": {
        "altitude_ft": "Pressure altitude",
        "minutes": "Time",
        "fuel": "Fuel",
        "distance_nm": "Distance",
    },
    "aircraft.cruise_table": {
        "altitude_ft": "Pressure altitude",
        "true_airspeed_kt": "True airspeed",
        "fuel_per_hour": "Fuel an hour",
    },
    "aircraft.compass_card": {"for_magnetic_deg": "For", "steer_deg": "Steer"},
    "wind": {
        "altitude_ft": "Altitude",
        "from_deg": "From",
        "from_true_deg": "From",
        "reference": "North",
        "speed_kt": "Speed",
        "temperature_c": "Temperature",
    },
    "winds_aloft": {
        "text": "Forecast (FB), as it was sent, heading included",
        "station": "Station",
        "stations": "Stations",
    },
    "weather": {
        "point": "At",
        "altimeter_inhg": "Altimeter setting",
        "altimeter_hpa": "Altimeter setting",
        "temperature_c": "Temperature",
        "wind_from_deg": "Wind from",
        "wind_reference": "North of the wind",
        "wind_speed_kt": "Wind speed",
    },
    "leg": {
        "number": "Leg",
        "altitude_ft": "Altitude",
        "wind_from_true_deg": "Wind from",
        "wind_speed_kt": "Wind speed",
        "true_airspeed_kt": "True airspeed",
        "highest_ground_ft": "Highest ground",
        "highest_obstacle_ft": "Highest obstacle",
        "true_course_deg": "True course",
        "distance_nm": "Distance",
        "variation_deg_east": "Variation, east positive",
        "measured_course_deg": "Course by hand",
        "measured_course_reference": "North of the course by hand",
        "measured_nm": "Distance by hand",
    },
    "limits": {
        "reserve_min": "Own reserve",
        "crosswind_kt": "Strongest crosswind",
        "runway_ft": "Shortest runway",
        "daylight_margin_min": "Down before sunset by",
        "ground_clearance_ft": "Above ground and obstacles by",
    },
    "quiet": {"code": "Caution", "reason": "Reason"},
}
"""By table and key."""

ROWS: Mapping[str, str] = {
    "stop": "Stop",
    "aircraft.climb_table": "Climb table, row",
    "aircraft.cruise_table": "Cruise table, row",
    "aircraft.compass_card": "Compass correction card, row",
    "wind": "Wind",
    "weather": "Weather",
    "leg": "Leg",
}
"""What one row of a table is called, its number behind."""

FUEL = "fuel"
"""The unit that the aircraft's fuel is in, whichever that is."""
_UNITS = (
    ("_deg_east", "°"),
    ("_from_true_deg", "°T"),
    ("_true_deg", "°T"),
    ("_magnetic_deg", "°M"),
    ("true_course_deg", "°T"),
    ("steer_deg", "°M"),
    ("_deg", "°"),
    ("_ft", "ft"),
    ("_kt", "kt"),
    ("_nm", "NM"),
    ("_min", "min"),
    ("_fpm", "ft/min"),
    ("_c", "°C"),
    ("_inhg", "inHg"),
    ("_hpa", "hPa"),
    ("minutes", "min"),
)


def label(table: str, key: str) -> str:
    """What a key is called on the page; the key itself where it is none of a plan's.

    >>> label("wind", "speed_kt"), label("wind", "sped")
    ('Speed', 'sped')
    """
    return LABELS.get(table, {}).get(key, key)


def unit(key: str) -> str:
    """The unit of a key, as its name says it, or the word that stands for the unit of fuel.

    >>> unit("climb_rate_fpm"), unit("steer_deg"), unit("cruise_fuel_per_hour"), unit("name")
    ('ft/min', '°M', 'fuel', '')
    """
    if "fuel" in key and key != "fuel_unit":
        return FUEL
    return next((sign for end, sign in _UNITS if key.endswith(end)), "")
