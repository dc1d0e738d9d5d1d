"""Every threshold a user can meet: its name, its value typed once more, and what holds it.

``test_stated_limits.py`` finds the constants in the source and compares. What holds one is the file
of tests that looks at it from both sides, or, after "-", why it needs no test of its own.
"""

from __future__ import annotations

import ast
import importlib
import re
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).parent.parent / "plotter"
WHERE = (
    *("chart", "exports.py", "flight", "formats", "inputs.py", "maps", "places", "route", "web"),
    "datastore/comparing.py",
)
ELSEWHERE = ("chart.priors",)
"""How often each slip happens: not a threshold; ``confusion.py`` judges these figures."""
NAME = re.compile(
    r"(?!_)(?:(MOST|LEAST|LOWEST|HIGHEST|FARTHEST|LONGEST|SHORTEST|WIDEST|NEAREST|LARGEST|SMALLEST)(_.*)?"
    r"|(.*_)?LIMIT(_.*)?"
    r"|.*_(NM|FT|DEG|KT|FPM|MIN|S|MM|M|C|HPA|DAYS))"
)


def constants() -> Iterator[tuple[str, object]]:
    """Dotted name and value of each public number of a module whose name says it is a threshold."""
    for each in WHERE:
        path = PACKAGE / each
        for file in sorted(path.rglob("*.py")) if path.is_dir() else [path]:
            module = ".".join(file.relative_to(PACKAGE).with_suffix("").parts)
            if module in ELSEWHERE:
                continue
            for name in _assigned(file):
                value = getattr(importlib.import_module(f"plotter.{module}"), name)
                if _is_number(value):
                    yield f"{module}.{name}", _plain(value)


def _assigned(file: Path) -> Iterator[str]:
    for node in ast.parse(file.read_text(encoding="utf-8")).body:
        targets = node.targets if isinstance(node, ast.Assign) else []
        if isinstance(node, ast.AnnAssign):
            targets = [node.target]
        for target in targets:
            if isinstance(target, ast.Name) and NAME.fullmatch(target.id):
                yield target.id


def _plain(value: object) -> object:
    """A table keyed by no names as its values alone; a long figure to the millimetre."""
    if isinstance(value, dict) and not all(isinstance(key, str) for key in value):
        return tuple(value.values())
    return round(value, 3) if isinstance(value, float) and abs(value) > 1e6 else value


def _is_number(value: object) -> bool:
    if isinstance(value, tuple | dict):
        return all(map(_is_number, value.values() if isinstance(value, dict) else value))
    return isinstance(value, int | float) and not isinstance(value, bool)


DRAWN = "- how much is listed, printed or drawn: what is left out is told, or seen on the map"
LOOKS = "- how far or how much a search looks at: its tests compare with looking at everything"
NATURE = "- a figure of the method or a default, and no limit of what is taken"
WAITS = "- how long the page waits: a test from both sides would hang on the speed of a machine"
ALONE = "- its value is held here alone"
MOST_ALONE = 57
"""How many rows may say so: this may only shrink."""
LIMITS: dict[str, tuple[object, str]] = {
    "chart.asking.SHEET_EDGE_DEG": (72.0, "test_asking"),
    "chart.distance_sheet.FINE_MM": (0.5, DRAWN),
    "chart.distance_sheet.SAME_MM": (0.5, DRAWN),
    "chart.distance_sheet.USUAL_PLOTTER_MM": (300.0, DRAWN),
    "chart.measurement.LENGTHS_NM": ((10.0, 20.0, 30.0, 40.0, 60.0, 80.0, 120.0), NATURE),
    "chart.measurement.MOST_LEGS": (200, "test_asking"),
    "chart.own_plotter.LONGEST_MM": (600.0, "test_own_plotter"),
    "chart.own_plotter.MOST_OFFSET_MM": (25.4, ALONE),
    "chart.own_plotter.MOST_PAIRS": (200, ALONE),
    "chart.own_plotter.MOST_TIMES": (5.0, ALONE),
    "chart.own_plotter.READING_ERROR_MM": (0.5, "test_own_plotter"),
    "chart.own_plotter_verdict.FACTOR_LIMIT": (0.01, ALONE),
    "chart.own_plotter_verdict.LONGEST_PRINTED_MM": (262.0, "test_paper_rule"),
    "chart.own_plotter_verdict.OFFSET_LIMIT_MM": (2.0, ALONE),
    "chart.projection.BAND_DEG": (8.0, NATURE),
    "chart.projection.HIGHEST_LATITUDE_DEG": (80.0, "test_projection"),
    "chart.projection.LONGEST_NM": (600.0, "test_projection"),
    "chart.readings.LARGEST_READING": (20_000.0, ALONE),
    "datastore.comparing.LEAST_BEACONS": (0.9, ALONE),
    "datastore.comparing.LEAST_KEPT": (0.95, ALONE),
    "datastore.comparing.LENGTH_FT": (100.0, "test_datastore_comparing"),
    "datastore.comparing.MOST_OTHER": (0.5, ALONE),
    "datastore.comparing.MOST_RENUMBERED": (3, ALONE),
    "datastore.comparing.MOVED_NM": (0.1, ALONE),
    "datastore.comparing.RENAMED_WITHIN_NM": (0.3, ALONE),
    "datastore.comparing.TURNED_DEG": (0.1, ALONE),
    "datastore.comparing.TURNED_FAR_DEG": (10.0, ALONE),
    "exports.WHOLE_TURN_DEG": (360.0, "test_exporting"),
    "flight.air.forecast_text.FASTEST_KT": (199.0, "test_winds_aloft_group"),
    "flight.air.forecast_text.SIGNLESS_ABOVE_FT": (24_000, "test_winds_aloft_group"),
    "flight.air.levels.HERE_NM": (0.1, ALONE),
    "flight.air.sky.FARTHEST_NM": (500.0, ALONE),
    "flight.aircraft.LEAST_ENDURANCE_MIN": (20.0, ALONE),
    "flight.aircraft.PATTERN_HEIGHT_FT": (1000.0, NATURE),
    "flight.cautions.air.FAR_FROM_STATION_NM": (200.0, "test_stated_limits"),
    "flight.cautions.air.LOW_GROUNDSPEED_KT": (20.0, "test_cautions_of_air"),
    "flight.cautions.fields.DENSITY_ABOVE_FIELD_FT": (1000.0, "test_stated_limits"),
    "flight.cautions.flight.LONGEST_BETWEEN_MIN": (15.0, "test_stated_limits"),
    "flight.cautions.flight.NOT_REACHED_BY_FT": (1.0, ALONE),
    "flight.cautions.flight.STEEP_FPM": (3000.0, ALONE),
    "flight.cautions.legs.MOST_NAMED": (4, DRAWN),
    "flight.cautions.legs.TOO_SHORT_NM": (1.0, "test_stated_limits"),
    "flight.checks.HIGHEST_ALTITUDE_FT": (65_000.0, "test_plan"),
    "flight.compass.CERTIFIED_DEG": (10.0, "test_stated_limits"),
    "flight.compass.LARGEST_CORRECTION_DEG": (30.0, "test_compass"),
    "flight.compass.WIDEST_GAP_DEG": (60.0, ALONE),
    "route.parts.MOST_PARTS": (60, ALONE),
    "route.parts.OVER_A_POLE_NM": (0.1, NATURE),
    "flight.courses.SHORTEST_FLOWN_NM": (0.001, NATURE),
    "route.parts.SPLIT_AT_DEG": (2.0, ALONE),
    "flight.plan.starter.ABOVE_FIELDS_FT": (2000.0, NATURE),
    "flight.plan.starter.ANYWHERE_FT": (4500.0, NATURE),
    "flight.plan.kinds.MOST_LEGS": (10_000, ALONE),
    "flight.plan.lines.LONGEST_SHOWN": (160, DRAWN),
    "flight.plan.values.SHORTEST_TYPED_NM": (0.1, ALONE),
    "flight.printed.MOST_PLACES": (6, DRAWN),
    "flight.rows.LONGEST_MIN": (527_040.0, ALONE),
    "flight.rows.SHARES_A_ROW_NM": (1.0, "laws/test_hostile_flights"),
    "flight.rules.APPLIES_ABOVE_SURFACE_FT": (3000.0, ALONE),
    "flight.rules.BETWEEN_LEVELS_FT": (2000.0, ALONE),
    "flight.rules.CEILINGS_FT": ({"US": 18000.0, "ICAO": 20000.0}, "test_rules"),
    "flight.rules.SAME_ALTITUDE_FT": (1.0, ALONE),
    "flight.track.STEP_FT": (500.0, "test_profile"),
    "flight.wind.CALM_KT": (1e-09, NATURE),
    "flight.wind.LEAST_COST_KT": (1.0, ALONE),
    "flight.wind.LEAST_GROUNDSPEED_KT": (5.0, "test_wind"),
    "flight.wind.STRONGEST_KT": (300.0, "test_wind"),
    "formats.descriptions.LONGEST_SHOWN": (40, DRAWN),
    "formats.geojson.MOST_BYTES": (8_000_000, "test_documentation"),
    "formats.geojson_crs.MOST_LETTERS": (40, DRAWN),
    "formats.gpkg_in.MOST_BYTES": (32_000_000, "test_documentation"),
    "formats.gpkg_in.MOST_LAYERS": (100, ALONE),
    "formats.gpkg_in.MOST_STEPS": (100_000_000, "test_gpkg_in"),
    "formats.gps_unit.DOUBTFUL_NM": (0.05, ALONE),
    "formats.incoming.MOST_BYTES": (16_000_000, "test_documentation"),
    "formats.incoming.MOST_FAULTS_KEPT": (10, DRAWN),
    "formats.incoming.MOST_NAMED_POINTS": (100_000, "test_reading"),
    "formats.incoming.MOST_NOTED": (20_000_000, "test_documentation"),
    "formats.incoming.MOST_PARTS": (1000, ALONE),
    "formats.incoming.MOST_TRACK_POINTS": (1_000_000, "test_documentation"),
    "formats.incoming.NOTE_LIMIT": (2000, "test_kml_in"),
    "formats.kml_in.MOST_LIST_BYTES": (1_000_000, ALONE),
    "formats.kml_in.MOST_PACKED_BYTES": (64_000_000, "test_documentation"),
    "formats.kml_in.MOST_TIMES_PACKED": (200, ALONE),
    "formats.names.FILE_NAME_LIMIT_BYTES": (100, "test_names"),
    "formats.names.NAME_LIMIT": (300, "test_names"),
    "formats.own_plotter_file.MOST_BYTES": (100_000, ALONE),
    "formats.points_file.MOST_POINTS": (100_000, "test_points_file"),
    "formats.reading.MOST_POINTS": (10_000, "test_file_route"),
    "formats.reading.TRACK_TOLERANCE_NM": (0.5, ALONE),
    "formats.readings_file.MOST_BYTES": (1_000_000, "test_readings_file"),
    "formats.strokes.TOLERANCE_NM": (0.05, "test_strokes"),
    "formats.xml_in.MOST_BYTES": (160_000_000, "test_documentation"),
    "formats.xml_in.MOST_DEPTH": (100, ALONE),
    "formats.xml_in.MOST_NAMES": (10_000, ALONE),
    "formats.xml_in.MOST_TAG_BYTES": (1_000_000, ALONE),
    "formats.xml_in.MOST_TEXT": (20_000, ALONE),
    "inputs.MOST_PLAN_BYTES": (1_000_000, "test_opening"),
    "maps.base.MOST_LETTERS": ((58000, 140000), "test_basemap"),
    "maps.base.MOST_TOGETHER": (70_000, DRAWN),
    "maps.base.MOST_TOWNS_A_BLOCK": (2, "test_towns"),
    "maps.base.TOWN_CELL_DEG": (5, "laws/test_sieves"),
    "maps.base.WIDEST_DEG": ((18.0, 100.0), DRAWN),
    "maps.drawing.MOST_AIRPORTS": (400, "test_sheet"),
    "maps.drawing.MOST_PLACES": (12_000, "test_own_drawing"),
    "maps.drawing.MOST_POINTS": (400, "test_own_drawing"),
    "maps.isogonic.FAR_STEP_DEG": (10, "test_isogonic"),
    "maps.isogonic.FAR_TOLERANCE_DEG": (0.25, "test_isogonic"),
    "maps.isogonic.LEAST_SPACING_DEG": (0.1, DRAWN),
    "maps.isogonic.MOST_LINES": (120, "test_isogonic"),
    "maps.isogonic.NORTH_END_DEG": (85.0, "test_isogonic"),
    "maps.isogonic.STEPS_DEG": ((1, 2, 5, 10), DRAWN),
    "maps.isogonic.TOLERANCE_DEG": (0.05, "test_isogonic"),
    "maps.labels.ON_THE_LINE_NM": (0.05, DRAWN),
    "maps.tiles.LONGEST": (500, "test_tiles"),
    "maps.view.LEAST_SPAN_DEG": (0.8, DRAWN),
    "maps.view.WIDEST_ASPECT": (1.9, "test_view"),
    "maps.web_map.MOST_LEGS_BESIDE": (9, DRAWN),
    "maps.web_map.MOST_ROWS_BESIDE": (32, DRAWN),
    "maps.web_map.MOST_TYPED": (20, DRAWN),
    "places.airports.SMALLEST_RADIUS_M": (6335439.327, NATURE),
    "places.lookup.MOST_COMPARED": (40, LOOKS),
    "places.lookup.MOST_LISTED": (10, "test_lookup"),
    "places.lookup.MOST_SUGGESTIONS": (3, DRAWN),
    "places.lookup.NEAR_NM": (150.0, LOOKS),
    "places.nearness.FARTHEST_NM": (10_810.0, "laws/test_near_a_point"),
    "places.nearness.FIRST_LOOK_NM": (12.0, LOOKS),
    "places.nearness.WIDEST_NM": (60.0, LOOKS),
    "places.search.MOST": (10, ALONE),
    "places.search.MOST_LETTERS": (80, ALONE),
    "places.search.MOST_SLIPS": (2, LOOKS),
    "places.search.MOST_WORDS": (8, ALONE),
    "places.search.SHORTEST_BEGINNING": (3, LOOKS),
    "places.search.SHORTEST_SLIPPED": (4, LOOKS),
    "places.spelling.LONGEST": (12, "test_spelling"),
    "places.spelling.MOST_COMPARED": (100, LOOKS),
    "places.spelling.NEAR_NM": (300.0, LOOKS),
    "places.states.BORDER_KNOWN_TO_NM": (3.0, "test_states"),
    "places.states.LOOKS_NM": ((15.0, 40.0, 100.0), LOOKS),
    "places.twins.NAMESAKES_NM": (5.0, "laws/test_sieves"),
    "places.twins.TWINS_NM": (0.3, "laws/test_sieves"),
    "route.checkpoints.DEFAULT_CLEAR_OF_TURNS_NM": (1.0, "test_checkpoint_times"),
    "route.checkpoints.DEFAULT_EVERY_NM": (10.0, NATURE),
    "route.checkpoints.MOST_CHECKPOINTS": (5000, "test_checkpoints"),
    "route.checkpoints.SAME_PLACE_NM": (2e-06, NATURE),
    "route.checks.COURSE_CHANGE_LIMIT_DEG": (2.0, "test_stated_limits"),
    "route.checks.LIMIT_DAYS": (365, ALONE),
    "route.checks.MOST_NAMED": (3, DRAWN),
    "route.checks.SHORTEST_LEG_ASKED_NM": (60.0, "test_stated_limits"),
    "route.checks.SHORTEST_LEG_NM": (0.1, ALONE),
    "route.checks.SOURCES_APART_LIMIT_NM": (0.5, "test_route_cautions"),
    "route.checks.VARIATION_CHANGE_LIMIT_DEG": (2.0, "test_stated_limits"),
    "route.parts.HIGH_LATITUDE_DEG": (60.0, ALONE),
    "route.parts.SHORTEST_LEG_ASKED_NM": (60.0, ALONE),
    "route.plotting.BESIDE_NM": (15.0, DRAWN),
    "route.reading.points.DECLINATION_LIMIT_DEG": (3.0, "test_stated_limits"),
    "route.reading.text.LONGEST_WORD": (500, "test_unread"),
    "route.reading.text.MOST_FAULTS": (25, "test_unread"),
    "route.reading.text.MOST_WORDS": (10_000, "test_unread"),
    "route.reading.text.MOST_WORDS_OF_A_POSITION": (8, ALONE),
    "route.reading.whole.LONG_WAY_ROUND_NM": (300.0, ALONE),
    "route.reading.whole.THAT_PLACE_NM": (0.5, "test_given"),
    "route.reading.whole.WORTH_A_LOOK_NM": (60.0, "test_given"),
    "route.suggesting.BESIDE_NM": (30.0, LOOKS),
    "route.suggesting.FAR_NM": (600.0, LOOKS),
    "route.suggesting.LONGEST_NAME": (60, ALONE),
    "route.suggesting.MOST": (8, DRAWN),
    "route.suggesting.MOST_BEFORE": (3, DRAWN),
    "route.suggesting.MOST_WEIGHED": (120, LOOKS),
    "route.suggesting.NAMED_WITHIN_NM": (5.0, ALONE),
    "route.suggesting.NO_DISTANCE_NM": (0.05, LOOKS),
    "web.addresses.MOST_SUGGESTED": (20, DRAWN),
    "web.connections.HEAD_S": (10.0, "test_documentation"),
    "web.connections.MOST": (600, "test_documentation"),
    "web.connections.MOST_MESSAGES": (20, ALONE),
    "web.guard.LONGEST_S": (15.0, WAITS),
    "web.guard.MOST_BYTES": (1_000_000, "test_web_guard"),
    "web.offers.MOST_OFFERED": (4, DRAWN),
    "web.requests.FARTHEST_ASKED_NM": (200.0, ALONE),
    "web.requests.MOST_LETTERS": (80_000, ALONE),
    "web.requests.MOST_LISTED": (12, DRAWN),
    "web.requests.MOST_PLAN_LETTERS": (200_000, ALONE),
    "web.requests.MOST_POINTS": (2_000, ALONE),
    "web.requests.MOST_READINGS": (100, ALONE),
    "web.serving.GRACE_S": (2, WAITS),
    "web.serving.LAST_S": (4.0, WAITS),
}
