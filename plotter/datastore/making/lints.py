"""What looks wrong in the tables: counted, printed, told what was done; never mended in silence."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from itertools import product

from plotter.datastore.making.match import AIRFIELDS, distance_nm, first_position
from plotter.datastore.making.tables import Row, Rows
from plotter.earth.angles import half_turn
from plotter.places import twins
from plotter.places.rows import AIRPORTS, airport_from

MIDDLE_NM = 1.5
"""A runway whose middle lies farther from its airport's position [NM] is doubted: at the largest
airports an outer runway's middle lies about a mile from the reference point."""

BESIDE = "pairs of open airfields within 0.3 NM"
NAMESAKES = "pairs of open airfields of one name or code, farther apart but within 5 NM"
CODES_TWICE = "codes borne by more than one airport"
IDENTS_TWICE = "idents borne by more than one airport"
IATA_CLASHES = "US local identifiers that are another airport's IATA code"
ELEVATION_0 = "elevation 0"
NO_ELEVATION = "elevation not in the data"
NO_TIME_ZONE = "time zone not in the data"
DISOWNED = "rows the dataset calls duplicate or bogus, left out"
NEIGHBOURS_ZONE = "time zone taken from neighbours"
NO_AIRPORT = "runways without airport"
NO_RUNWAY = "airports without runway"
NO_HEADING = "runways without any heading"
BAD_HEADING = "headings outside 0 to 360 degrees, left out"
BENT = "headings of the two ends not opposite within 5 degrees"
ELSEWHERE = "runways whose middle lies over 1.5 NM from their airport's position"
SIGN_SLIPPED = "of these, beside it if a sign of latitude or longitude is turned"
RADIO_NO_AIRPORT = "frequencies without airport"
RADIO_0 = "frequencies of 0, left out"
NO_RADIO = "airports without frequency"
BEACONS_TWICE = "idents used by more than one beacon"
BEACON_NO_FREQUENCY = "frequency not in the data"
BEACONS_WITH_RADIALS = "VOR, VOR-DME and VORTAC"
NO_DECLINATION = "of these, station declination not in the data"
CROWDED_OUT = "places crowded out by a larger one"
PEOPLE_OF_THE_CITY = "parts of a city listed with the people of the city"

_KEPT = "kept as given"
_ABSENT = 'shown as "not in the data"'
_LEFT_OUT = "left out"
DONE: Mapping[str, str] = {
    BESIDE: "both kept; told as perhaps one field wherever either is shown",
    NAMESAKES: "both kept; told as perhaps one field wherever either is shown",
    CODES_TWICE: "an ICAO indicator wins, an open airport goes before closed; others are refused",
    IDENTS_TWICE: "the tables would be refused: an ident is the key",
    IATA_CLASHES: "refused as ambiguous, with what to type for each",
    ELEVATION_0: "kept as given: some airports lie at sea level, for others it may mean unknown",
    NO_ELEVATION: _ABSENT,
    NO_TIME_ZONE: _ABSENT,
    DISOWNED: "left out, with their runways",
    NEIGHBOURS_ZONE: "marked as assumed wherever it is shown",
    NO_AIRPORT: _LEFT_OUT,
    NO_RUNWAY: f"{_ABSENT}; counted apart where a runway is asked for",
    NO_HEADING: f"{_ABSENT}; none is guessed from the runway's number",
    BAD_HEADING: "the heading is left out, the runway kept",
    BENT: _KEPT,
    ELSEWHERE: "length and heading kept; positions of runway ends are used for nothing",
    SIGN_SLIPPED: "the same",
    RADIO_NO_AIRPORT: _LEFT_OUT,
    RADIO_0: _LEFT_OUT,
    NO_RADIO: _ABSENT,
    BEACONS_TWICE: "refused unless one alone is near the neighbouring point, and that is told",
    BEACON_NO_FREQUENCY: _ABSENT,
    BEACONS_WITH_RADIALS: "a count, nothing wrong",
    NO_DECLINATION: "bearings from them use the magnetic model's variation, and that is told",
    CROWDED_OUT: "left out of the table",
    PEOPLE_OF_THE_CITY: "their population is left out",
}
"""What was done with each; a test holds the builder to naming them all."""


def airport_lints(airports: Rows) -> dict[str, int]:
    """Oddities of the airports by themselves."""
    idents = Counter(row["ident"] for row in airports)
    return {
        **_twins(airports),
        CODES_TWICE: _codes_borne_twice(airports),
        IDENTS_TWICE: sum(count > 1 for count in idents.values()),
        IATA_CLASHES: _iata_clashes(airports),
        ELEVATION_0: sum(row["elevation_ft"] == "0" for row in airports),
        NO_ELEVATION: sum(not row["elevation_ft"] for row in airports),
        NO_TIME_ZONE: sum(not row["time_zone"] for row in airports),
    }


def _twins(airports: Rows) -> dict[str, int]:
    """Pairs of open airfields that may be one field twice, by the rule of their cautions."""
    fields = (row for row in airports if row["kind"] in AIRFIELDS)
    pairs = twins.twins_among(airport_from([row[column] for column in AIRPORTS]) for row in fields)
    beside = sum(pair.apart_nm <= twins.TWINS_NM for pair in pairs)
    return {BESIDE: beside, NAMESAKES: len(pairs) - beside}


def _codes_borne_twice(airports: Rows) -> int:
    """Codes that lead to more than one airport, over all code columns."""
    bearers: Counter[str] = Counter()
    for row in airports:
        columns = ("ident", "icao", "iata", "gps", "local")
        bearers.update({row[column] for column in columns if row[column]})
    return sum(count > 1 for count in bearers.values())


def _iata_clashes(airports: Rows) -> int:
    """Identifiers of US airports that mean another airport in the IATA column."""
    by_iata = {row["iata"]: row["ident"] for row in airports if row["iata"]}
    us = (row for row in airports if row["country"] == "US" and row["local"])
    return sum(by_iata.get(row["local"], row["ident"]) != row["ident"] for row in us)


def runway_lints(source: Rows, airports: Rows, runways: set[tuple[str, ...]]) -> dict[str, int]:
    """Oddities of the runways."""
    kept = {row["ident"]: row for row in airports}
    with_runway = {row[0] for row in runways}
    elsewhere = [row for row in source if _middle_elsewhere(row, kept)]
    return {
        NO_AIRPORT: sum(row["airport_ident"] not in kept for row in source),
        NO_RUNWAY: sum(ident not in with_runway for ident in kept),
        NO_HEADING: sum(not row[8] and not row[9] for row in runways),
        BAD_HEADING: sum(map(_no_heading, source)),
        BENT: sum(map(_bent, runways)),
        ELSEWHERE: len(elsewhere),
        SIGN_SLIPPED: sum(_sign_slipped(row, kept) for row in elsewhere),
    }


def _no_heading(row: Row) -> bool:
    """Whether the source gives an end a heading that no compass has."""
    given = (row["le_heading_degT"], row["he_heading_degT"])
    return any(value and not 0 <= float(value) <= 360 for value in given)


def _bent(runway: tuple[str, ...]) -> bool:
    """Whether the headings of both ends are given and do not point opposite ways."""
    if not runway[8] or not runway[9]:
        return False
    turn = (float(runway[9]) - float(runway[8])) % 360
    return abs(turn - 180) > 5


def _middle_elsewhere(runway: Row, airports: Mapping[str, Row]) -> bool:
    """Whether the middle of a runway's ends (columns not kept) lies far from its airport."""
    middle, airport = _middle(runway), airports.get(runway["airport_ident"])
    if middle is None or airport is None:
        return False
    return not distance_nm(first_position(airport), middle) <= MIDDLE_NM


def _sign_slipped(runway: Row, airports: Mapping[str, Row]) -> bool:
    """Whether it lies beside the airport once a sign of its position is turned."""
    middle, (lat, lon) = _middle(runway), first_position(airports[runway["airport_ident"]])
    turned = [(lat * north, lon * east) for north, east in product((1, -1), repeat=2)]
    return middle is not None and any(distance_nm(each, middle) <= MIDDLE_NM for each in turned)


def _middle(runway: Row) -> tuple[float, float] | None:
    """The middle of a runway's ends, near enough; ``None`` where they are not both positions."""
    given = [
        runway[f"{end}_{what}_deg"] for end in ("le", "he") for what in ("latitude", "longitude")
    ]
    if not all(given):
        return None
    lat1, lon1, lat2, lon2 = map(float, given)
    lat, lon = (lat1 + lat2) / 2, half_turn(lon1 + half_turn(lon2 - lon1) / 2)
    return (lat, lon) if math.isfinite(lat + lon) and abs(lat) <= 90 else None


def frequency_lints(source: Rows, kept_ids: set[str], airports: Rows) -> dict[str, int]:
    """Oddities of the frequencies."""
    ids_with = {row["airport_ref"] for row in source} & kept_ids
    return {
        RADIO_NO_AIRPORT: sum(row["airport_ref"] not in kept_ids for row in source),
        RADIO_0: sum(float(row["frequency_mhz"]) <= 0 for row in source),
        NO_RADIO: len(airports) - len(ids_with),
    }
