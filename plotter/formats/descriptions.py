"""The words that go into every file beside the figures: what a point is, what must be checked."""

from __future__ import annotations

from plotter import wording
from plotter.formats.names import clean_name, clean_text
from plotter.messages import message, text
from plotter.route.checkpoints import Checkpoint
from plotter.route.plotting import DataDates, Plot
from plotter.route.values import Caution, Leg, Waypoint

LONGEST_SHOWN = 40
"""Letters of a name in a line for a small screen."""


def standing_lines(plot: Plot) -> list[str]:
    """What every output carries: a warning if there is one, the standing cautions, this route's
    own, the data's dates.
    """
    own = [caution_line(caution) for caution in plot.cautions]
    lines = [*wording.STANDING, *own, flight_line(plot), data_line(plot.data)]
    return [f"{plot.warning}.", *lines] if plot.warning else lines


def short_line(plot: Plot, name: str = "") -> str:
    """A plot in one line for a small screen, its full name first where the screen has a short one;
    a STOP is counted, its words are in :func:`standing_lines`.
    """
    stops = sum(caution.rank == "STOP" for caution in plot.cautions)
    parts = [
        f"{plot.warning}." if plot.warning else "",
        f"{clean_name(name, LONGEST_SHOWN)}:" if name else "",
        f"{wording.distance(plot.route.distance_nm)}, {plot.date_said}.",
        text(message("description.stops", count=stops), "file") if stops else "",
        text(message("description.short"), "file"),
    ]
    return " ".join(filter(None, parts))


def flight_line(plot: Plot) -> str:
    """The date and altitude the variation holds for."""
    said = message(
        "description.flight",
        date=plot.date_said,
        altitude_ft=plot.altitude_ft,
        line=plot.route.line,
        distance_nm=plot.route.distance_nm,
    )
    return text(said, "file")


def data_line(data: DataDates) -> str:
    """The dates the figures rest on.

    >>> data_line(DataDates("2026-01-01", "2025-12-01", "WMM2025", "2029-12-31"))
    'Airports as of 2026-01-01, navaids as of 2025-12-01, WMM2025 valid to 2029-12-31.'
    """
    said = message(
        "description.data",
        airports=data.airports,
        navaids=data.navaids,
        model=data.magnetic_model,
        valid_to=data.magnetic_model_valid_to,
    )
    return text(said, "file")


def caution_line(caution: Caution) -> str:
    """A caution in one line: rank, where, words, source.

    >>> from plotter.messages import literal
    >>> caution_line(Caution("CHECK", literal("demo", "Check the chart."), "two datasets", "XDMA"))
    'CHECK XDMA: Check the chart. (two datasets)'
    """
    head = f"{caution.rank} {caution.where}".strip()
    tail = f" ({caution.source})" if caution.source else ""
    return clean_text(f"{head}: {caution.text_at('file')}{tail}")


def point_line(point: Waypoint) -> str:
    """What a turning point is: the place's full name, its elevation, the pilot's own note."""
    what = [clean_name(point.place.name)] if point.place else []
    if point.elevation_ft is not None:
        what.append(f"elevation {wording.altitude(point.elevation_ft)}")
    elif point.place:
        what.append(f"elevation {wording.NOT_IN_DATA}")
    what += [planned_line(point)] * (point.altitude_ft is not None)
    return "; ".join([*what, *([clean_text(point.note)] if clean_text(point.note) else [])])


def leg_line(leg: Leg) -> str:
    """A leg's course, variation and distance as a pilot reads them."""
    magnetic = wording.magnetic_course(leg.true_course_deg, leg.variation.degrees_east)
    return (
        f"Leg {leg.number}: {wording.course(leg.true_course_deg, 'T')}, "
        f"variation {wording.variation(leg.variation.degrees_east)}, "
        f"{magnetic}, {wording.distance(leg.printed_nm)}"
    )


def checkpoint_line(checkpoint: Checkpoint) -> str:
    """How far a checkpoint is along the route and from its end."""
    planned = f"; {planned_line(checkpoint)}" if checkpoint.altitude_ft is not None else ""
    said = message(
        "description.checkpoint",
        leg=checkpoint.leg_number,
        gone_nm=checkpoint.distance_from_start_nm,
        to_go_nm=checkpoint.distance_to_go_nm,
    )
    return f"{text(said, 'file')}{planned}"


def planned_line(point: Waypoint | Checkpoint) -> str:
    """When and how high a log plans to pass a point, rounded as in its rows."""
    time = f"{wording.zulu(point.time)} " if point.time else ""
    return f"planned {time}at {wording.altitude(round(point.altitude_ft or 0.0, -1))}"
