"""Two sources must agree: which row of the second source is the same airport, how far apart.

The first source's position is the one used; the second is a witness. A code alone is no identity:
codes are given up and given to another field, so a pair joined by code must also be near or bear
the same name. Only then is the distance a statement about the position.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache

from plotter.datastore.making.tables import Row, Rows, number
from plotter.earth import geodesic
from plotter.earth.position import Position
from plotter.places import spelling

# Are these two names the same name? Spelling, accents and generic words set aside.

_GENERIC = """
    aerodrome aerodromo aeroporto aeropuerto air airbase airfield airpark airport airstrip base
    farm field flugplatz heliport helipad intl international landing memorial military municipal
    muni national pista private ranch regional county state seaplane station strip
    aldeia estancia fazenda hacienda hato nossa our saint san santa santo sao senhora sitio lady
    a al am an and d da de del des di do dos du e el i im in ii iii la las le les los new nr no
    of old on the und van von y island
"""
GENERIC = frozenset(_GENERIC.split())
"""Words that say what a place is, not which one; and small words of several languages."""
ALIKE = 0.75  # share of letters in common; "Nyapari" and "Nypari" have 0.92


plain = cache(spelling.plain)


def letters(name: str) -> str:
    """A name's letters and digits alone, so that "La Belle" is "LaBelle"."""
    return plain(name).replace(" ", "")


@cache
def words(name: str) -> frozenset[str]:
    """The words of a name that tell it from others.

    >>> sorted(words("São José do Rio Preto Airport"))
    ['jose', 'preto', 'rio']
    """
    return frozenset(plain(name).split()) - GENERIC


def same(one: str, other: str) -> bool:
    """Whether all telling words of one name stand in the other.

    >>> same("Chifeng Yulong Airport", "Chifeng Airport"), same("Fazenda Brasa", "Fazenda Rosa")
    (True, False)
    """
    a, b = words(one), words(other)
    return bool(a and b) and (a <= b or b <= a)


def alike(one: str, other: str) -> bool:
    """Whether two names share a telling word or are nearly the same letters.

    >>> alike("Nyapari Airport", "Nypari Airport"), alike("Meier Airport", "Tru Field")
    (True, False)
    """
    a, b = words(one), words(other)
    if not a or not b:
        return False
    return bool(a & b) or _ratio("".join(sorted(a)), "".join(sorted(b))) >= ALIKE


def _ratio(one: str, other: str) -> float:
    """Share of letters in common, 0 to 1."""
    return SequenceMatcher(None, one, other, autojunk=False).ratio()


ONE_SOURCE = "one source"
AGREE = "two sources agree"
DIFFER = "two sources differ, first used"
DMS_AS_DECIMALS = "second source reads degrees-minutes-seconds as decimals, first used"
BY_TOWN = "two sources differ, second used: it lies by the town both name, the first far from it"
ANOTHER_FIELD = "code names another field in the second source, not compared"
POSITION_RULES = (ONE_SOURCE, AGREE, DIFFER, DMS_AS_DECIMALS, BY_TOWN, ANOTHER_FIELD)

AGREE_NM = 0.5  # as far as two honest reference points of one airfield lie apart
NEAR_NM = 2.5  # same code and this near: the same field whatever it is called
TOWN_NM = 5.0  # same code, and one named for the town of the other: the same field, up to here
HEIGHT_NM = 10.0  # same code and the very same elevation: the same field, up to here
REGION_NM = 30.0  # same code and names alike: the same field, up to here
SAME_NAME_NM = 150.0  # same code, the very same name and town: the same field, up to here
BY_NAME_NM = 2.0  # no code in common, the very same name: the same field, up to here
BY_ITS_TOWN_NM = 10.0  # an airport of a town lies this near to it
FAR_FROM_TOWN_NM = 25.0  # and never so far: farther than new airports of large cities lie out
AIRFIELDS = {"small_airport", "medium_airport", "large_airport"}
SECOND_COUNTRY = {"PR": "US", "VI": "US"}  # how the second source files these


@dataclass(frozen=True, slots=True)
class Pair:
    """An airport and the row of the second source thought to be the same, with their distance."""

    airport: Row
    other: Row
    apart_nm: float


def distance_nm(a: tuple[float, float], b: tuple[float, float]) -> float:
    """Distance on WGS 84 [NM] between two positions, latitude first."""
    return geodesic.distance_nm(Position(*a), Position(*b))


def first_position(airport: Row) -> tuple[float, float]:
    """Where the first source has it."""
    return float(airport["latitude_deg"]), float(airport["longitude_deg"])


def second_position(other: Row) -> tuple[float, float]:
    """Where the second source has it."""
    return float(other["lat"]), float(other["lon"])


def pair(airport: Row, other: Row) -> Pair:
    """The two with their distance, rounded as it is written, so that rules and figures agree."""
    apart_nm = distance_nm(first_position(airport), second_position(other))
    return Pair(airport, other, round(apart_nm, 3))


def same_country(airport: Row, other: Row) -> bool:
    """Whether both sources file the two in the same country."""
    country = airport["country"]
    return SECOND_COUNTRY.get(country, country) == other["country"]


def same_field(two: Pair) -> bool:
    """Whether a pair joined by a code is one field: by nearness, or by name and distance."""
    apart_nm, one, other = two.apart_nm, two.airport, two.other
    return (
        apart_nm <= NEAR_NM
        or (apart_nm <= TOWN_NM and _named_for_town(one, other))
        or (apart_nm <= HEIGHT_NM and _same_height(one, other))
        or (apart_nm <= REGION_NM and alike(one["name"], other["name"]))
        or (apart_nm <= SAME_NAME_NM and _same_name_and_town(one, other))
        or reads_as_dms(two)
    )


def _named_for_town(one: Row, other: Row) -> bool:
    """Whether one is named for the town of the other, or both lie at the same town."""
    town, other_town = one["municipality"], other["city"]
    pairs = ((town, other["name"]), (one["name"], other_town), (town, other_town))
    return any(alike(*two) for two in pairs)


def _same_height(one: Row, other: Row) -> bool:
    """Whether both give the very same elevation, other than 0, which may mean unknown."""
    return one["elevation_ft"] not in ("", "0") and one["elevation_ft"] == other["elevation"]


def _same_name_and_town(one: Row, other: Row) -> bool:
    """Whether the names are the same, and nothing else says that they are two fields."""
    towns = one["municipality"], other["city"]
    if not same(one["name"], other["name"]):
        return False
    return not all(towns) or alike(*towns) or _same_height(one, other)


def reads_as_dms(two: Pair) -> bool:
    """Whether the second source's decimals are minutes and seconds.

    They are if reading both numbers so brings it to the airport: within NEAR_NM, and at least
    four times nearer than it was.
    """
    latitude, longitude = _from_dms(two.other["lat"]), _from_dms(two.other["lon"])
    if latitude is None or longitude is None or two.apart_nm <= AGREE_NM:
        return False
    read_nm = distance_nm(first_position(two.airport), (latitude, longitude))
    return read_nm <= min(NEAR_NM, two.apart_nm / 4)


def _from_dms(decimal: str) -> float | None:
    """A number of degrees with its decimals read as minutes and seconds, if they can be.

    >>> round(_from_dms("50.5405"), 4), _from_dms("50.7205")
    (50.9014, None)
    """
    whole, _, digits = decimal.partition(".")
    digits = digits.ljust(4, "0")
    minutes, seconds = int(digits[:2]), float(f"{digits[2:4]}.{digits[4:] or '0'}")
    if minutes >= 60 or seconds >= 60:
        return None
    size = abs(int(whole)) + minutes / 60 + seconds / 3600
    return -size if whole.startswith("-") else size


class Towns:
    """Where the towns are: the third witness."""

    def __init__(self, towns: Iterable[tuple[str, str, str, float, float]]) -> None:
        self._at: dict[tuple[str, str], list[tuple[str, float, float]]] = defaultdict(list)
        for name, country, region, latitude_deg, longitude_deg in towns:
            self._at[letters(name), country].append((region, latitude_deg, longitude_deg))

    def nearest_nm(self, airport: Row, position: tuple[float, float]) -> float:
        """How far a position [NM] lies from the town the airport is filed under."""
        country, _, region = airport["region"].partition("-")
        towns = self._at[letters(airport["municipality"]), country]
        if country == "US":
            towns = [town for town in towns if town[0] == region]
        return min((distance_nm(position, town[1:]) for town in towns), default=math.inf)

    def prefer_second(self, two: Pair) -> bool:
        """Whether the town both name lies by the second position and far from the first."""
        one, other = two.airport, two.other
        same_name = plain(one["name"]) == plain(other["name"])
        if not same_name or not same(one["municipality"], other["city"]):
            return False
        first_nm = self.nearest_nm(one, first_position(one))
        second_nm = self.nearest_nm(one, second_position(other))
        return second_nm <= BY_ITS_TOWN_NM and first_nm >= FAR_FROM_TOWN_NM


class SecondSource:
    """The rows of the second source, found by code or by place."""

    def __init__(self, rows: Rows) -> None:
        self.rows = rows
        self.by_icao = {row["icao"]: row for row in rows}
        self.by_lid = {row["lid"]: row for row in rows if row["lid"]}
        self.by_square: dict[tuple[int, int], Rows] = defaultdict(list)
        for row in rows:
            self.by_square[_square(row["lat"], row["lon"])].append(row)

    def by_code(self, airport: Row) -> list[Pair]:
        """Every row of the same country that bears one of the airport's codes."""
        found = [self.by_icao.get(airport[column]) for column in ("icao", "gps", "ident")]
        found.append(self.by_lid.get(airport["local"]))
        unique = {row["icao"]: row for row in found if row and same_country(airport, row)}
        return [pair(airport, row) for row in unique.values()]

    def by_name(self, airport: Row) -> Iterator[Pair]:
        """Every row of the same country, the very same name and nearly the same place."""
        if airport["kind"] not in AIRFIELDS:
            return
        south, west = _square(airport["latitude_deg"], airport["longitude_deg"])
        for square in ((south + i, west + j) for i in (-1, 0, 1) for j in (-1, 0, 1)):
            for row in self.by_square.get(square, ()):
                if same_country(airport, row) and same(airport["name"], row["name"]):
                    near = pair(airport, row)
                    if near.apart_nm <= BY_NAME_NM:
                        yield near


def _square(latitude: str, longitude: str) -> tuple[int, int]:
    """The half-degree square a position lies in."""
    return math.floor(float(latitude) * 2), math.floor(float(longitude) * 2)


def witnesses(airports: Rows, second: SecondSource) -> tuple[dict[str, Pair], set[str]]:
    """For each airport its row in the second source; and those whose code names another field.

    The nearest pairs are taken first. A row bears witness for a second airport only where the
    two lie so near that the first source has one field twice.
    """
    by_code = {airport["ident"]: second.by_code(airport) for airport in airports}
    pairs = [two for found in by_code.values() for two in found if same_field(two)]
    pairs += [two for airport in airports for two in second.by_name(airport)]
    chosen: dict[str, Pair] = {}
    taken: set[str] = set()
    for two in sorted(pairs, key=lambda two: (two.apart_nm, two.airport["ident"])):
        free = two.other["icao"] not in taken or two.apart_nm <= AGREE_NM
        if two.airport["ident"] not in chosen and free:
            chosen[two.airport["ident"]] = two
            taken.add(two.other["icao"])
    elsewhere = {ident for ident, found in by_code.items() if found and ident not in chosen}
    return chosen, elsewhere


def rule(two: Pair, towns: Towns) -> str:
    """In words, what the second source says of the position and which one is used."""
    if two.apart_nm <= AGREE_NM:
        return AGREE
    if towns.prefer_second(two):
        return BY_TOWN
    return DMS_AS_DECIMALS if reads_as_dms(two) else DIFFER


def compare(airports: Rows, second_rows: Rows, towns: Towns) -> None:
    """Fill in distance, rule and time zone of every airport, and the second position if better."""
    chosen, elsewhere = witnesses(airports, SecondSource(second_rows))
    for airport in airports:
        if airport["ident"] in elsewhere:
            airport["position_rule"] = ANOTHER_FIELD
    for two in chosen.values():
        said = rule(two, towns)
        two.airport["sources_apart_nm"] = number(two.apart_nm, 3)
        two.airport["position_rule"] = said
        two.airport["time_zone"] = two.other["tz"]
        if said == BY_TOWN:
            two.airport["latitude_deg"] = number(two.other["lat"], 6)
            two.airport["longitude_deg"] = number(two.other["lon"], 6)
