"""What a place goes by: its code, its kind, where it is, what it is known for."""

from __future__ import annotations

from plotter import wording
from plotter.places.model import Airport, Navaid, Town

Found = Airport | Navaid | Town
NAVAID, TOWN = "navaid", "town"


def code_of(place: Found) -> str:
    """The most official code; a town has none."""
    if isinstance(place, Airport):
        return place.codes[0]
    return place.ident if isinstance(place, Navaid) else ""


def kind_of(place: Found) -> str:
    """The kind a search asks for: an airport's own, ``navaid`` or ``town``."""
    if isinstance(place, Airport):
        return place.kind
    return NAVAID if isinstance(place, Navaid) else TOWN


def kind_words(place: Found) -> str:
    """The kind as people read it: a beacon by what it is."""
    if isinstance(place, Navaid):
        return place.kind
    return kind_of(place).replace("_", " ")


def region_of(place: Found) -> str:
    """The region where the data has one, else the country, as ISO 3166 codes."""
    return place.region if isinstance(place, Airport) and place.region else place.country


def known_for(place: Found) -> str:
    """The one figure that tells a place best: longest runway, frequency, people."""
    if isinstance(place, Airport):
        length_ft = place.longest_runway_ft
        return wording.NOT_IN_DATA if length_ft is None else wording.altitude(length_ft)
    if isinstance(place, Navaid):
        return frequency(place.frequency_khz)
    people = place.population
    return wording.NOT_IN_DATA if people is None else f"{people:,} people"


def frequency(frequency_khz: float | None) -> str:
    """The frequency of a beacon in the unit it is tuned in.

    >>> frequency(117_300.0), frequency(373.0), frequency(None)
    ('117.30 MHz', '373 kHz', 'not in the data')
    """
    if frequency_khz is None:
        return wording.NOT_IN_DATA
    return f"{frequency_khz / 1000:.2f} MHz" if frequency_khz > 10_000 else f"{frequency_khz:g} kHz"
