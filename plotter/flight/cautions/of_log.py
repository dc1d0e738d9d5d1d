"""The cautions of a log: ranked, silenced where the plan says so with a reason.

STOP comes first and cannot be silenced; CHECK can, by its code; NOTE stands in the foot. All are
kept; in print those of one code are one (:func:`~plotter.route.values.one_a_class`).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from plotter.errors import InputError, Where
from plotter.flight.cautions.air import air_cautions
from plotter.flight.cautions.fields import field_cautions
from plotter.flight.cautions.flight import figure_cautions, flight_cautions
from plotter.flight.cautions.fuel import fuel_cautions
from plotter.flight.cautions.legs import leg_cautions
from plotter.flight.cautions.light import clock_cautions, sun_cautions
from plotter.flight.cautions.oxygen import oxygen_cautions
from plotter.flight.invented import INVENTED, invented_cautions
from plotter.flight.log_values import NavigationLog, Silenced
from plotter.messages import message
from plotter.places.model import Airport
from plotter.route.values import Caution, ranked

UNUSED = "quiet-unused"


def log_cautions(log: NavigationLog) -> tuple[Caution, ...]:
    """The cautions of route and flight, worst first."""
    found = [
        *invented_cautions(log.plan.invented),
        *fuel_cautions(log),
        *field_cautions(log),
        *leg_cautions(log),
        *oxygen_cautions(log),
        *clock_cautions(log),
        *sun_cautions(log),
        *air_cautions(log),
        *figure_cautions(log),
        *flight_cautions(log),
        *_of_the_plot(log),
    ]
    return ranked(found)


def silence(
    cautions: Sequence[Caution], quiet: Mapping[str, str]
) -> tuple[tuple[Caution, ...], tuple[Silenced, ...]]:
    """The cautions that are shown, and those the plan silences, with its reasons.

    A code that did not arise is told, so that it cannot hide a caution later. Raises InputError,
    code ``quiet``, where the plan would silence a STOP.
    """
    stops = [caution.code for caution in cautions if caution.rank == "STOP"]
    for code in quiet:
        if code in stops:
            raise InputError("quiet", where=Where(key=f"quiet.{code}"), silenced=code)
    quiet = {code: reason for code, reason in quiet.items() if code != INVENTED}
    there = {caution.code for caution in cautions} | {UNUSED}
    cautions = [*cautions, *(_unused(code) for code in quiet if code not in there)]
    shown = tuple(caution for caution in cautions if caution.code not in quiet)
    silenced = tuple(
        Silenced(caution, quiet[caution.code]) for caution in cautions if caution.code in quiet
    )
    return shown, silenced


def _unused(code: str) -> Caution:
    return Caution("NOTE", message("quiet-unused", silenced=code))


def _of_the_plot(log: NavigationLog) -> list[Caution]:
    """What the plot says of the route, read as a flight that lands where the sectors end."""
    ends = {sector.end.name: sector.end.place for sector in log.sectors}
    kept = []
    for caution in log.plot.cautions:
        place = ends.get(caution.where)
        kept.append(_at_a_landing(log, caution, place) if isinstance(place, Airport) else caution)
    return kept


def _at_a_landing(log: NavigationLog, caution: Caution, place: Airport) -> Caution:
    """Closed, water and heliport are a STOP where the flight lands, unless the plan fits it."""
    if caution.code not in ("closed", "heliport", "seaplane-base", "balloonport"):
        return caution
    plan = log.plan
    fits = (place.kind == "heliport" and plan.aircraft_category == "rotorcraft") or (
        place.kind == "seaplane_base" and plan.lands_on_water
    )
    return caution if fits else replace(caution, rank="STOP")
