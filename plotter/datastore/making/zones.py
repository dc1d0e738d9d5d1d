"""Time zones of airports that the second source does not know."""

from __future__ import annotations

from collections import defaultdict

import numpy as np

from plotter.datastore.making.tables import Row, Rows

WITHIN_NM = 60.0
ASKED = 3
EARTH_RADIUS_NM = 3440.065


def fill(airports: Rows) -> int:
    """Give an airport the zone its three nearest neighbours of the same region agree on.

    All three must lie within 60 NM; where they disagree the zone stays empty.
    """
    regions: dict[str, tuple[Rows, Rows]] = defaultdict(lambda: ([], []))
    for airport in airports:
        regions[airport["region"]][not airport["time_zone"]].append(airport)
    filled = 0
    for known, unknown in regions.values():
        if len(known) >= ASKED and unknown:
            filled += _fill_region(known, unknown)
    return filled


def _fill_region(known: Rows, unknown: Rows) -> int:
    """The same, within one region."""
    chords = np.linalg.norm(_vectors(unknown)[:, None, :] - _vectors(known)[None, :, :], axis=2)
    nearest = np.argsort(chords, axis=1, kind="stable")[:, :ASKED]
    filled = 0
    for airport, asked, row in zip(unknown, nearest, chords, strict=True):
        zones = {known[i]["time_zone"] for i in asked}
        if len(zones) == 1 and row[asked[-1]] * EARTH_RADIUS_NM <= WITHIN_NM:
            airport["time_zone"] = zones.pop()
            filled += 1
    return filled


def _vectors(airports: list[Row]) -> np.ndarray:
    """Unit vectors from the centre of the earth."""
    latitude = np.radians([float(row["latitude_deg"]) for row in airports])
    longitude = np.radians([float(row["longitude_deg"]) for row in airports])
    flat = np.cos(latitude)
    return np.column_stack((flat * np.cos(longitude), flat * np.sin(longitude), np.sin(latitude)))
