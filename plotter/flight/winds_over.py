"""The air over a place from the stations of a winds aloft forecast around it."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence

from plotter.earth.geodesic import distance_nm
from plotter.earth.position import Position
from plotter.errors import InputError
from plotter.flight.air import Air, AirNote, air_at, blend, weights
from plotter.flight.winds_aloft import Bulletin


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
        raise InputError("name a station to take the winds aloft from", code="wind-levels")
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
