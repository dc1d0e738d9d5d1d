"""What the pilot may choose of the files beside their formats."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal, get_args

from plotter.errors import InputError
from plotter.formats.unit_limits import NO_LIMITS, UnitLimits

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
    plotter.errors.InputError: gpx_as cannot be 'line'; use route, track or both
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
                    f"{field} cannot be {value!r}; use {', '.join(most)} or {last}",
                    code="choice",
                    candidates=known,
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
