"""What a GPS unit can hold, as its pilot says it: limits, never the name of a maker."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from typing import Literal, get_args

from plotter.errors import InputError

Letters = Literal["capitals", "any"]
Over = Literal["split", "thin"]

EXAMPLE = "name-length=8, route-points=30, decimals=5"
_LOWEST = {"name_length": 3, "route_points": 2, "routes": 1, "waypoints": 2, "decimals": 2}
_HIGHEST = {"name_length": 300, "decimals": 6}
_MOST = 100_000
_WORDS: dict[str, tuple[str, ...]] = {
    "letters": get_args(Letters),
    "over": get_args(Over),
    "elevations": ("yes", "no"),
}


@dataclass(frozen=True, slots=True)
class UnitLimits:
    """The limits of one unit; ``None`` is no limit, and the defaults change nothing.

    ``letters`` is what a short name may be made of: ``capitals`` and digits, or ``any``. ``over``
    is what becomes of a route of too many points: ``split`` into numbered parts that share their
    joint, or ``thin``: without checkpoints, then without those turning points that move the line
    least. Raises :class:`~plotter.errors.InputError` for a limit that is none.

    >>> UnitLimits(route_points=1)  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    plotter.errors.InputError: route-points 1 is out of range; enter a whole number from 2 ...
    """

    name_length: int | None = None
    letters: Letters = "capitals"
    route_points: int | None = None
    routes: int | None = None
    waypoints: int | None = None
    decimals: int = 6
    elevations: bool = True
    over: Over = "split"

    def __post_init__(self) -> None:
        for name, lowest in _LOWEST.items():
            value, highest = getattr(self, name), _HIGHEST.get(name, _MOST)
            if value is None and name != "decimals":
                continue
            whole = isinstance(value, int) and not isinstance(value, bool)
            if not whole or not lowest <= value <= highest:
                raise InputError(
                    "unit.range",
                    key=_key(name),
                    value=str(value)[:40],
                    lowest=lowest,
                    highest=highest,
                )
        for name in ("letters", "over"):
            if getattr(self, name) not in _WORDS[name]:
                raise _wrong_word(name, getattr(self, name))
        if not isinstance(self.elevations, bool):
            raise _wrong_word("elevations", self.elevations)


NO_LIMITS = UnitLimits()
KEYS = tuple(each.name.replace("_", "-") for each in fields(UnitLimits))


def read_limits(text: str) -> UnitLimits:
    """Limits as typed, ``key=value`` with commas between.

    >>> read_limits("name-length=6, route-points=30").route_points
    30
    >>> read_limits("name-lenght=6")
    Traceback (most recent call last):
    plotter.errors.InputError: unknown limit 'name-lenght'; did you mean name-length?
    """
    given: dict[str, object] = {}
    for item in filter(None, (each.strip() for each in text.split(","))):
        key, equals, value = (part.strip() for part in item.partition("="))
        if not equals or not value:
            raise InputError("unit.no-value", item=item[:40], example=EXAMPLE)
        if key in given:
            raise InputError("unit.twice", key=key[:40])
        given[key] = value
    return limits_of(given)


def limits_of(given: Mapping[str, object]) -> UnitLimits:
    """Limits of keys and values, from the command line (text) or from a file (numbers too)."""
    return UnitLimits(**{_known(key): _value(key, value) for key, value in given.items()})  # type: ignore[arg-type]


def _known(key: str) -> str:
    name = key.replace("_", "-").lower()
    if name in KEYS:
        return name.replace("-", "_")
    from difflib import get_close_matches

    close = get_close_matches(name, KEYS, 1, 0.6)
    if close:
        raise InputError("unit.close", candidates=close, key=key[:40], close=close[0])
    raise InputError("unit.unknown", candidates=KEYS, key=key[:40], keys=KEYS)


def _value(key: str, value: object) -> object:
    if not isinstance(value, str):
        return value
    if _known(key) == "elevations":
        return {"yes": True, "no": False}.get(value.lower(), value)
    is_number = value.isascii() and value.isdecimal() and len(value) < 9
    return int(value) if is_number else value


def _wrong_word(name: str, value: object) -> InputError:
    return InputError("unit.word", key=_key(name), value=str(value)[:40], choices=_WORDS[name])


def _key(name: str) -> str:
    return name.replace("_", "-")


# What the pilot may choose of the files beside their formats.

GpxAs = Literal["route", "track", "both"]
NameProfile = Literal["full", "10", "6"]
GPX_AS: tuple[GpxAs, ...] = get_args(GpxAs)
NAME_PROFILES: tuple[NameProfile, ...] = get_args(NameProfile)


@dataclass(frozen=True, slots=True)
class Choices:
    """Choices for the files written for a GPS unit; every field has the default of the tool.

    ``gpx_as`` is what the line becomes: a route, which a unit guides along, a track, which it only
    draws, or both. ``names`` is how long a name may be there: ``full``, or 10 or 6 capitals and
    digits. ``unit`` holds the further limits of a unit; a length of names there goes before
    ``names``. Raises :class:`~plotter.errors.InputError` for a word that is none of these.

    >>> Choices(gpx_as="line")
    Traceback (most recent call last):
    plotter.errors.InputError: gpx_as 'line' is not known; use route, track or both
    """

    gpx_checkpoints: bool = False
    gpx_as: GpxAs = "route"
    names: NameProfile = "full"
    unit: UnitLimits = NO_LIMITS

    def __post_init__(self) -> None:
        for field, value, known in (
            ("gpx_as", self.gpx_as, GPX_AS),
            ("names", self.names, NAME_PROFILES),
        ):
            if value not in known:
                *most, last = known
                raise InputError(
                    "choice", candidates=known, field=field, value=value, most=most, last=last
                )

    @property
    def name_limit(self) -> int | None:
        """Characters a name may have, ``None`` where it is kept whole.

        >>> Choices(names="6").name_limit, Choices().name_limit
        (6, None)
        """
        if self.unit.name_length is not None:
            return self.unit.name_length
        return None if self.names == "full" else int(self.names)

    @property
    def capitals(self) -> bool:
        """Whether a short name is of capitals and digits alone."""
        return self.unit.name_length is None or self.unit.letters == "capitals"


DEFAULT_CHOICES = Choices()
