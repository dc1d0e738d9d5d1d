"""``plotter measure``: which mistake explains what was read off a plotter."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import click

from plotter.cli.plot import RouteCommand
from plotter.cli.printing import progress, say
from plotter.errors import InputError

if TYPE_CHECKING:
    from plotter.chart.asking import Measured, ReadingRow
    from plotter.chart.own_plotter import OwnPlotter
    from plotter.chart.reading_errors import Desk
    from plotter.chart.readings import Unit

UNITS: tuple[Unit, ...] = ("nm", "sm", "km", "mm", "in")


class _Asked(NamedTuple):
    """One question, as click hands it over."""

    points: tuple[str, ...]
    reading: str | None
    unit: str | None
    course: str | None
    edge: str | None
    chart: str
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
    short_help="Which mistake explains what was read off a plotter?",
)
@click.argument("points", nargs=-1, metavar="[POINT POINT]")
@click.option("--reading", metavar="FIGURE", help="The distance as it was read, as in 26.4.")
@click.option(
    "--unit",
    type=click.Choice(UNITS, case_sensitive=False),
    help="What the reading is in; mm and in are those of a plain ruler.  [default: nm]",
)
@click.option("--course", metavar="COURSE", help="The course as it was read, as in 247T or 256M.")
@click.option(
    "--edge",
    type=click.Choice(["nm", "sm"], case_sensitive=False),
    help="The edge of miles you think was laid on the line.",
)
@click.option(
    "--chart",
    type=click.Choice(["sectional", "terminal", "world"], case_sensitive=False),
    default="sectional",
    show_default=True,
    help="The chart measured on: 1:500,000, 1:250,000 or 1:1,000,000.",
)
@click.option(
    "--readings",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Several legs measured with the same plotter, as CSV.",
)
@click.option("--student", is_flag=True, help="Allow for 1.5 mm and 1.5° of error, not 1.")
@click.option(
    "--my-plotter",
    is_flag=True,
    help="Expect what your own plotter read when 'plotter rule --my-plotter' tested it.",
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
@click.option("--odds", is_flag=True, help="Print how probable each explanation is.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document, nothing else.")
def measure(**given: object) -> None:
    """Ask which mistake explains a distance or course read off a paper chart.

    Two POINTs and a --reading, a --course or both; or --readings FILE; or a plan file, for what it
    says was measured on its legs. Every known slip is weighed
    against reading right, and "nothing fits: measure again" is always among the answers. What
    cannot be told apart is said, and which measurement would tell it.

    The answer is a question to check at the chart table, never a figure to fly. A planning aid,
    not an approved source of navigation: check against current charts and NOTAMs.
    """
    from plotter.cli.measure_report import print_measured
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
    from plotter.chart.reading_errors import desk_of
    from plotter.datastore.opening import open_store
    from plotter.opening import is_plan_file, open_date, open_points
    from plotter.route.plotting import Wishes

    desk = desk_of(asked.chart, asked.edge, _own_plotter(asked), student=asked.student)
    if any(map(is_plan_file, asked.points)):
        return _measured_plan(asked, desk)
    rows = _rows(asked)
    wishes = Wishes(date=open_date(asked.date), own_points=open_points(asked.own_points))
    store = open_store(progress("Building the table of places (once)"))
    return measure_rows(rows, store, wishes, desk)


def _measured_plan(asked: _Asked, desk: Desk) -> Measured:
    """What a plan file says was measured for its legs."""
    from plotter.chart.asking import measure_plan
    from plotter.datastore.opening import open_store
    from plotter.flight.log import wishes_of
    from plotter.opening import open_flight
    from plotter.route.given import GivenRoute

    _refuse_beside_a_plan(asked)
    flight = open_flight(Path(asked.points[0]), asked.own_points or None)
    store = open_store(progress("Building the table of places (once)"))
    given = flight.route if isinstance(flight.route, GivenRoute) else None
    wishes = wishes_of(flight.plan, flight.own_points)
    return measure_plan(flight.plan, store, wishes, desk, given)


def _refuse_beside_a_plan(asked: _Asked) -> None:
    """What a plan file says itself is not asked for a second time, nor passed over."""
    if any((asked.points[1:], asked.reading, asked.course, asked.readings)):
        raise InputError(
            f"'{asked.points[0]}' is a plan file and holds its own readings (measured_nm, "
            "measured_course_deg); give it alone",
            code="file-among-points",
        )
    says = {"--date": (asked.date, "its date (departure)"), "--unit": (asked.unit, "its unit (NM)")}
    for option, (typed, what) in says.items():
        if typed is not None:
            raise InputError(
                f"'{asked.points[0]}' is a plan file and says {what} itself; leave {option} out",
                code="file-among-points",
            )


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
        raise InputError(
            "no tested plotter is kept on this machine; test yours with plotter rule "
            "--my-plotter, or leave --my-plotter out",
            code="own-plotter",
        )
    return kept
