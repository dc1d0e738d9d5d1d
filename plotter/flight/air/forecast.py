"""The winds and temperatures aloft forecast (FB) as it is sent, read whole.

Source: Aviation Weather Handbook, FAA-H-8083-28, "Winds and Temperatures Aloft": true directions,
altitudes above mean sea level (pressure altitudes from 18,000 ft), no wind within 1,500 ft of the
station's height, no temperature within 2,500 ft of it or at 3,000 ft.

The trap: the bulletin names a day of the month, no month, and hours that may belong to the day
before or after. The period for use holds the VALID time, and the month is the one that brings it
nearest to the flight.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import InputError, PlotterError, Where
from plotter.flight.air.forecast_text import (
    Columns,
    Word,
    fault,
    placed,
    read_columns,
    read_group,
    words_of,
)
from plotter.flight.air.levels import Air, AirNote, WindLevel, air_at, blend, weights

_VALID = re.compile(
    r"VALID\s+(?P<day>[0-9]{2})(?P<time>[0-9]{4})Z\s+"
    r"FOR\s+USE\s+(?P<start>[0-9]{4})\s*-\s*(?P<end>[0-9]{4})Z",
    re.IGNORECASE,
)
_STATION = re.compile(r"(?=.*[A-Z])[A-Z0-9]{3}")
_DAY = dt.timedelta(days=1)


@dataclass(frozen=True, slots=True)
class StationWinds:
    """The levels of one station, lowest first."""

    station: str
    levels: tuple[WindLevel, ...]


@dataclass(frozen=True, slots=True)
class Bulletin:
    """A forecast: when it is valid and for use (day of the month; times since midnight UTC), and
    the stations that were asked for.
    """

    valid_day: int
    valid_time: dt.timedelta
    use_start: dt.timedelta
    use_end: dt.timedelta
    stations: tuple[StationWinds, ...]

    def station(self, name: str) -> StationWinds:
        """The winds of one station.

        Raises InputError, code ``winds-aloft``, with the stations there are.
        """
        for one in self.stations:
            if one.station == name.upper():
                return one
        raise _no_station(name, [one.station for one in self.stations])


@dataclass(frozen=True, slots=True)
class UsePeriod:
    """When a forecast is valid, and from when to when it is for use, as instants [UTC]."""

    valid: dt.datetime
    start: dt.datetime
    end: dt.datetime


def read_winds_aloft(text: str, stations: Sequence[str] = ()) -> Bulletin:
    """A bulletin from its text, for some of its stations or, with none named, for all.

    Raises InputError, code ``winds-aloft``, with line and caret: no heading, cut off, a group
    that cannot be, a station that is not in it. Lines of stations not asked for are not read.

    >>> bulletin = read_winds_aloft('''
    ... DATA BASED ON 180000Z
    ... VALID 180600Z   FOR USE 0200-0900Z. TEMPS NEG ABV 24000
    ...
    ... FT  3000    6000    9000   12000   18000   24000  30000  34000  39000
    ... OMA 2219 2919+06 3417+02 3216-01 2722-13 2837-25 275639 267748 269056
    ... GRI      2511+07 9900+04 2506+00 2417-12 2631-25 265639 257248 258756
    ... ''')
    >>> [level.altitude_ft for level in bulletin.station("GRI").levels][:2]
    [6000.0, 9000.0]
    >>> bulletin.station("OMA").levels[1].temperature_c
    6.0
    """
    lines = text.splitlines()
    day, valid, start, end = _heading("\n".join(lines), lines)
    rows = _rows(lines)
    for name in stations:
        if name.upper() not in rows:
            raise _no_station(name, list(rows))
    wanted = [name.upper() for name in stations] or list(rows)
    winds = tuple(_station(*rows[name]) for name in dict.fromkeys(wanted))
    return Bulletin(day, valid, start, end, winds)


def use_period(bulletin: Bulletin, near: dt.datetime) -> UsePeriod:
    """When the bulletin is for use, in the month that brings it nearest to an instant.

    Raises InputError, code ``winds-aloft``, where VALID is not within FOR USE, ``instant`` for a
    time without a zone.
    """
    midnight = _nearest_day(bulletin, near)
    valid = midnight + bulletin.valid_time
    start, end = midnight + bulletin.use_start, midnight + bulletin.use_end
    start -= _DAY * (start > valid)
    end += _DAY * (end < valid)
    if end - start > _DAY:
        raise InputError("winds-aloft.valid-time")
    return UsePeriod(valid, start, end)


def check_in_use(bulletin: Bulletin, instant: dt.datetime) -> UsePeriod:
    """The period for use, which the instant is in, its ends included.

    Raises InputError, code ``winds-aloft-period``, where it is not.

    >>> six, two, nine = (dt.timedelta(hours=hours) for hours in (6, 2, 9))
    >>> bulletin = Bulletin(18, six, two, nine, ())
    >>> check_in_use(bulletin, dt.datetime(2026, 6, 18, 9, 30, tzinfo=dt.UTC))
    Traceback (most recent call last):
    plotter.errors.InputError: the winds aloft are for use from 2026-06-18 02:00Z to 2026-06-18 \
09:00Z, not at 2026-06-18 09:30Z; paste the forecast that covers the flight
    """
    period = use_period(bulletin, instant)
    if period.start <= instant <= period.end:
        return period
    raise InputError(
        "winds-aloft-period.outside",
        start=_said(period.start),
        end=_said(period.end),
        instant=_said(instant),
    )


def _heading(text: str, lines: list[str]) -> tuple[int, dt.timedelta, dt.timedelta, dt.timedelta]:
    """Day and time of VALID, start and end of FOR USE; one heading, whole and possible."""
    found = {match.groups(): match for match in _VALID.finditer(text)}
    if not found:
        raise InputError(
            "winds-aloft.no-heading",
            where=Where(lines[0], 0, len(lines[0]), line=1) if lines else None,
        )
    (match, *others) = found.values()
    if others:
        raise _in_text("two forecasts are pasted into one; keep the one to use", text, others[0])
    day = int(match["day"])
    times = [_time_of_day(match[name]) for name in ("time", "start", "end")]
    if not 1 <= day <= 31 or None in times:
        raise _in_text("this heading names a day or time that cannot be", text, match)
    valid, start, end = (time or dt.timedelta() for time in times)
    return day, valid, start, end


def _time_of_day(figures: str) -> dt.timedelta | None:
    time = dt.timedelta(hours=int(figures[:2]), minutes=int(figures[2:]))
    return time if int(figures[2:]) < 60 and time <= _DAY else None


def _rows(lines: list[str]) -> dict[str, tuple[Columns, str, int]]:
    """By station, its columns, line and line number: the lines below a row of altitudes that
    begin with three letters or figures. Other lines, such as a second heading, are passed over.
    """
    columns: Columns | None = None
    rows: dict[str, tuple[Columns, str, int]] = {}
    for number, line in enumerate(lines, start=1):
        found = read_columns(line, number)
        columns = found or columns
        name = (line.split() or [""])[0].upper()
        if found or columns is None or not _STATION.fullmatch(name):
            continue
        if name in rows:
            raise fault(f"{name} has two lines in the bulletin; keep one", line, number)
        rows[name] = (columns, line, number)
    if columns is None:
        raise InputError("winds-aloft.no-altitudes")
    return rows


def _station(columns: Columns, line: str, number: int) -> StationWinds:
    first, *groups = words_of(line)
    name = first.text.upper()
    if not groups:
        raise fault(f"{name} has no groups; paste its whole line", line, number)
    levels: list[WindLevel] = []
    for altitude_ft, word in placed(columns, groups, line, number):
        level = _level(altitude_ft, word, name, line, number)
        if level.temperature_c is None and levels and levels[-1].temperature_c is not None:
            raise fault(
                f"{word.text} has no temperature and the level below has one, so it is cut off; "
                "paste the whole line",
                line,
                number,
                word,
            )
        levels.append(level)
    return StationWinds(name, tuple(levels))


def _level(altitude_ft: float, word: Word, station: str, line: str, number: int) -> WindLevel:
    try:
        group = read_group(word.text, altitude_ft)
    except PlotterError as err:
        raise err.at(Where(line, word.start, word.end, line=number)) from None
    note = ""
    if group.light_and_variable:
        note = f"{station} {altitude_ft:,.0f} ft is light and variable, taken as calm"
    elif group.or_more:
        note = f"{station} {altitude_ft:,.0f} ft is 199 kt or more, taken as 199 kt"
    return WindLevel(float(altitude_ft), group.wind, group.temperature_c, note)


def _nearest_day(bulletin: Bulletin, near: dt.datetime) -> dt.datetime:
    """Midnight UTC of the day of the month named, nearest to an instant."""
    if near.tzinfo is None:
        raise InputError("instant", instant=near.isoformat())
    around = near.astimezone(dt.UTC)
    days = [
        around.replace(hour=0, minute=0, second=0, microsecond=0) + _DAY * k for k in range(-45, 46)
    ]
    named = [day for day in days if day.day == bulletin.valid_day]
    return min(named, key=lambda day: abs(day + bulletin.valid_time - around))


def _said(instant: dt.datetime) -> str:
    return f"{instant.astimezone(dt.UTC):%Y-%m-%d %H:%MZ}"


def _no_station(name: str, there: list[str]) -> InputError:
    return InputError(
        "winds-aloft.no-station", candidates=there, station=name.upper(), stations=tuple(there)
    )


def _in_text(message: str, text: str, match: re.Match[str]) -> InputError:
    """A fault with the line a match begins on."""
    number = text.count("\n", 0, match.start())
    line = text.splitlines()[number]
    start = match.start() - (text.rfind("\n", 0, match.start()) + 1)
    where = Where(line, start, min(len(line), start + len(match[0])), line=number + 1)
    return InputError(message, code="winds-aloft", where=where)


# The air over a place from the stations of a winds aloft forecast around it.


def air_over(
    bulletin: Bulletin,
    stations: Mapping[str, Position],
    position: Position,
    altitude_ft: float,
) -> Air:
    """The air at a position and altitude [ft], each station counted by 1 / its distance.

    ``stations`` are those to use and where they stand, for the bulletin names no positions. Its
    notes say how much each counts. Raises InputError, code ``winds-aloft``, for a station that is
    not in the bulletin, ``wind-levels`` without any.
    """
    if not stations:
        raise InputError("wind-levels.no-station")
    away = {name: distance_nm(position, place) for name, place in stations.items()}
    airs = [(air_at(bulletin.station(name).levels, altitude_ft), away[name]) for name in stations]
    said = AirNote("stations", said_weights(away), said_stations(list(away)))
    air = blend(airs)
    return dataclasses.replace(air, notes=(said, *air.notes))


def said_weights(away_nm: Mapping[str, float]) -> str:
    """How much each station counts, in words.

    >>> said_weights({"OMA": 10.0, "DSM": 30.0})
    'wind of OMA (10 NM, 75 %) and DSM (30 NM, 25 %), by the inverse of the distance'
    >>> said_weights({"OMA": 38.2})
    'wind of OMA (38 NM)'
    """
    if len(away_nm) == 1:
        ((name, away),) = away_nm.items()
        return f"wind of {name} ({away:.0f} NM)"
    parts = [
        f"{name} ({away:.0f} NM, {share:.0%})".replace("%", " %")
        for (name, away), share in zip(
            away_nm.items(), weights(list(away_nm.values())), strict=True
        )
    ]
    return f"wind of {_listed(parts)}, by the inverse of the distance"


def said_stations(names: Sequence[str]) -> str:
    """Which stations count, wherever along the flight.

    >>> said_stations(["OMA", "DSM"]), said_stations(["OMA"])
    ('wind of OMA and DSM, by the inverse of the distance', 'wind of OMA')
    """
    way = ", by the inverse of the distance" if len(names) > 1 else ""
    return f"wind of {_listed(names)}{way}"


def _listed(names: Sequence[str]) -> str:
    *others, last = names
    return f"{', '.join(others)} and {last}" if others else last
