"""``plotter measure``: which mistake explains what was read off a plotter."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click

from plotter import wording
from plotter.chart.asking import Measured
from plotter.chart.distance_sheet import Fitted
from plotter.chart.explanation_names import name_of
from plotter.chart.measurement import Answer, Explanation
from plotter.chart.own_plotter_verdict import OWN_PLOTTER
from plotter.chart.priors import NONE, READ_RIGHT
from plotter.chart.readings import MeasuredLeg
from plotter.chart.weighing import FITS, NOTHING_FITS
from plotter.cli.plot import RouteCommand
from plotter.cli.printing import paragraph, progress, say, shown, table
from plotter.errors import InputError

if TYPE_CHECKING:
    from plotter.chart.asking import Measured, ReadingRow
    from plotter.chart.own_plotter import OwnPlotter
    from plotter.chart.readings import Desk, Unit

# A judged set of readings printed for people: legs, questions, what to measure next.

_SHOWN = {"nm": "NM", "sm": "SM", "km": "km", "mm": "mm", "in": "in"}


def print_measured(measured: Measured, *, odds: bool) -> None:
    """Print the whole of it on standard output."""
    judgement = measured.judgement
    many = len(judgement.legs) > 1
    blocks = [
        _heading(measured),
        _legs(measured),
        _answer("Distance", judgement.distance, odds=odds),
        _answer("Course", judgement.course, odds=odds),
        _fitted(judgement.fitted) if many else "",
        _cautions(measured),
        _foot(measured),
    ]
    say("\n\n".join(block for block in blocks if block))


def _heading(measured: Measured) -> str:
    desk = measured.desk
    own = "; your own plotter as tested" if desk.own else ""
    return (
        f"{desk.chart.title}, 1:{desk.chart.denominator:,}; a reading is good to "
        f"{desk.error.distance_mm:g} mm on the chart and {desk.error.course_deg:g}°{own}"
    )


def _legs(measured: Measured) -> str:
    headers = ["From", "To", "TC", "VAR", "NM", "Read", "mm off", "Course"]
    judgement = measured.judgement
    rows = [_row(leg, off) for leg, off in zip(judgement.legs, judgement.residual_mm, strict=True)]
    return table(headers, rows, "llrrrrrr")


def _row(leg: MeasuredLeg, residual_mm: float | None) -> list[str]:
    reading, course = leg.reading, leg.course
    return [
        shown(leg.start),
        shown(leg.end),
        wording.course(leg.true_course_deg, "T"),
        wording.variation(leg.variation_deg_east),
        f"{leg.distance_nm:.1f}",
        f"{reading.text} {_SHOWN[reading.unit]}" if reading else "",
        "" if residual_mm is None else f"{residual_mm:+.1f}",
        wording.course(course.degrees, course.reference) if course else "",
    ]


def _answer(title: str, answer: Answer | None, *, odds: bool) -> str:
    if answer is None:
        return ""
    lines = [f"{title}: {answer.heading}"]
    lines += [_explanation(each, odds=odds) for each in _worth_printing(answer, odds=odds)]
    if answer.inseparable:
        pairs = "; ".join(f"{name_of(a)} and {name_of(b)}" for a, b in answer.inseparable[:3])
        more = len(answer.inseparable) - 3
        rest = f"; and {more} more such pair{'s' if more > 1 else ''}" if more > 0 else ""
        lines.append(paragraph(f"These readings cannot separate {pairs}{rest}."))
    if answer.next_measurement:
        lines.append(paragraph(f"Next: {answer.next_measurement}"))
    return "\n".join(lines)


def _worth_printing(answer: Answer, *, odds: bool) -> list[Explanation]:
    """Where a reading is right, that is all that needs saying; otherwise every question is."""
    first = answer.explanations[0]
    if first.code in (READ_RIGHT, OWN_PLOTTER) and first.grade == FITS and not odds:
        return [first]
    return [each for each in answer.explanations if each is first or each.code != NONE]


def _explanation(each: Explanation, *, odds: bool) -> str:
    grade = "measure again" if each.grade == NOTHING_FITS else each.grade
    chance = f"{_percent(each.probability):>6} " if odds else ""
    first = f"  {chance}{grade:<13}  "
    return paragraph(shown(each.text), " " * len(first), first)


def _percent(probability: float) -> str:
    whole = round(100 * probability)
    return f"{min(max(whole, 1), 99)} %"


def _fitted(fitted: Fitted) -> str:
    if fitted.offset_nm is None or fitted.factor is None:
        return ""
    return paragraph(
        f"The straight line through these readings: {fitted.factor:.3f} × the leg "
        f"{fitted.offset_nm:+.1f} NM. Slips are in it too."
    )


def _cautions(measured: Measured) -> str:
    return "\n".join(
        paragraph(shown(each.text_at("console")), " " * 7, f"{each.rank:<7}")
        for each in measured.cautions
    )


def _foot(measured: Measured) -> str:
    data = measured.data
    dates = (
        f"Airports of {data.airports}, navaids of {data.navaids}; "
        f"{data.magnetic_model}, valid to {data.magnetic_model_valid_to}."
    )
    not_to_fly = (
        "A question to check at the chart table, never a figure to fly: what fits best can still "
        "be wrong."
    )
    return "\n".join(paragraph(text) for text in (not_to_fly, *wording.STANDING_SHORT, dates))


UNITS: tuple[Unit, ...] = ("nm", "sm", "km", "mm", "in")


class _Asked(NamedTuple):
    """One question, as click hands it over."""

    points: tuple[str, ...]
    reading: str | None
    unit: str | None
    course: str | None
    edge: str | None
    chart: str
    chart_middle: float | None
    readings: Path | None
    student: bool
    my_plotter: bool
    date: str | None
    own_points: tuple[Path, ...]
    odds: bool
    as_json: bool


class MeasureCommand(RouteCommand):
    """As the command that plots: a point may start with a minus."""

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Examples."""
        formatter.write(
            "\nExamples:\n  plotter measure KRST KLSE --reading 62.1\n"
            "  plotter measure KRST KLSE --reading 54 --course 093M --student\n"
            "  plotter measure --readings measured.csv --student --odds\n"
            "  plotter measure sunday.toml\n"
            "\nFile of --readings (CSV): start,end,reading,unit,course\n"
        )


@click.command(
    cls=MeasureCommand,
    context_settings={"ignore_unknown_options": True},
    short_help="Find the mistake that explains a plotter reading.",
)
@click.argument("points", nargs=-1, metavar="[POINT POINT]")
@click.option("--reading", metavar="FIGURE", help="Distance you read, such as 26.4.")
@click.option(
    "--unit",
    type=click.Choice(UNITS, case_sensitive=False),
    help="Unit of the reading; mm and in are for a plain ruler.  [default: nm]",
)
@click.option("--course", metavar="COURSE", help="Course you read, such as 247T or 256M.")
@click.option(
    "--edge",
    type=click.Choice(["nm", "sm"], case_sensitive=False),
    help="Edge of the plotter you think you used.",
)
@click.option(
    "--chart",
    type=click.Choice(["sectional", "terminal", "world"], case_sensitive=False),
    default="sectional",
    show_default=True,
    help="Scale of the chart: 1:500,000, 1:250,000 or 1:1,000,000.",
)
@click.option(
    "--chart-middle",
    type=float,
    metavar="DEGREES",
    help="Longitude of the middle of the chart, west negative, such as -93.",
)
@click.option(
    "--readings",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="CSV file of several legs measured with the same plotter.",
)
@click.option("--student", is_flag=True, help="Allow errors of 1.5 mm and 1.5° instead of 1.")
@click.option(
    "--my-plotter",
    is_flag=True,
    help="Use your own plotter as tested with 'plotter rule --my-plotter'.",
)
@click.option(
    "--date", metavar="YYYY-MM-DD", help="Date of flight, for variation.  [default: today]"
)
@click.option(
    "--points",
    "own_points",
    multiple=True,
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Your own points, CSV or GeoJSON, to use by name; may be repeated.",
)
@click.option("--odds", is_flag=True, help="Print the probability of each explanation.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document only.")
def measure(**given: object) -> None:
    """Find the mistake that explains a distance or course read off a paper chart.

    Give two POINTs and a --reading, a --course or both; or --readings FILE; or a plan file with
    measurements of its legs. Every known mistake is weighed against a correct reading, and
    "nothing fits: measure again" is always a possible answer. If two mistakes cannot be separated,
    the answer says so and names the measurement that would.

    The answer is a question to check at the chart table, never a figure to fly. A planning aid,
    not an approved source of navigation: check against current charts and NOTAMs.
    """
    from plotter.formats.document import to_json
    from plotter.formats.measure_document import measure_document

    asked = _Asked(**given)  # type: ignore[arg-type]
    measured = _measured(asked)
    if asked.as_json:
        say(to_json(measure_document(measured)), end="")
    else:
        print_measured(measured, odds=asked.odds)


def _measured(asked: _Asked) -> Measured:
    from plotter.chart.asking import measure_rows
    from plotter.chart.readings import desk_of
    from plotter.datastore.opening import open_store
    from plotter.inputs import is_plan_file, open_date, open_points
    from plotter.route.plotting import Wishes

    desk = desk_of(
        asked.chart,
        asked.edge,
        _own_plotter(asked),
        student=asked.student,
        chart_middle_deg=asked.chart_middle,
    )
    if any(map(is_plan_file, asked.points)):
        return _measured_plan(asked, desk)
    rows = _rows(asked)
    wishes = Wishes(date=open_date(asked.date), own_points=open_points(asked.own_points))
    store = open_store(progress("Building the table of places (once)"))
    return measure_rows(rows, store, wishes, desk)


def _measured_plan(asked: _Asked, desk: Desk) -> Measured:
    """What a plan file says was measured for its legs."""
    from plotter.datastore.opening import open_store
    from plotter.flight.by_hand import measure_plan
    from plotter.flight.log import wishes_of
    from plotter.inputs import open_flight
    from plotter.route.reading.whole import GivenRoute

    _refuse_beside_a_plan(asked)
    flight = open_flight(Path(asked.points[0]), asked.own_points or None)
    store = open_store(progress("Building the table of places (once)"))
    given = flight.route if isinstance(flight.route, GivenRoute) else None
    wishes = wishes_of(flight.plan, flight.own_points)
    return measure_plan(flight.plan, store, wishes, desk, given)


def _refuse_beside_a_plan(asked: _Asked) -> None:
    """What a plan file says itself is not asked for a second time, nor passed over."""
    if any((asked.points[1:], asked.reading, asked.course, asked.readings)):
        raise InputError("file-among-points.readings", file=asked.points[0])
    for option, key, typed in (
        ("--date", "file-among-points.date", asked.date),
        ("--unit", "file-among-points.unit", asked.unit),
    ):
        if typed is not None:
            raise InputError(key, file=asked.points[0], option=option)


def _rows(asked: _Asked) -> list[ReadingRow]:
    """The rows of the file, and the one that was typed after them."""
    from plotter.chart.asking import row_of
    from plotter.formats.readings_file import read_readings_file

    said = asked.unit or asked.edge or "nm"
    unit = next(each for each in UNITS if each == said)
    rows = [] if asked.readings is None else read_readings_file(asked.readings, unit)
    typed = asked.points or asked.reading is not None or asked.course is not None
    if typed or asked.readings is None:
        rows.append(row_of(asked.points, asked.reading, unit, asked.course))
    return rows


def _own_plotter(asked: _Asked) -> OwnPlotter | None:
    if not asked.my_plotter:
        return None
    from plotter.datastore.own_plotter import load_own_plotter

    kept = load_own_plotter()
    if kept is None:
        raise InputError("own-plotter")
    return kept
