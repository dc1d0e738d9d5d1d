"""``plotter rule``: print a scale to test a plotter against, and judge what the plotter read."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import click

from plotter.cli.parameters import Figure
from plotter.errors import CannotDo

PRINTING = ("paper", "into", "name")
TESTING = ("chart", "edge", "reading_error", "keep")


class _Options(NamedTuple):
    """The options of one call, as click hands them over."""

    my_plotter: str | None
    paper: str
    into: Path
    name: str | None
    chart: str
    edge: str
    reading_error: float
    keep: Path | None
    replace: bool
    as_json: bool


@click.command(
    epilog="\b\nExamples:\n  plotter rule --paper letter\n"
    '  plotter rule --my-plotter "ruler 10 = plotter 10.1, ruler 65 = plotter 65.9"\n'
    '  plotter rule --my-plotter "ruler 5 = plotter 5, ruler 32 = plotter 32.1" --chart terminal',
    short_help="Print a scale to test a plotter; judge what the plotter reads on it.",
)
@click.option(
    "--paper",
    type=click.Choice(["a4", "letter"], case_sensitive=False),
    default="a4",
    show_default=True,
    help="Size of the sheets.",
)
@click.option(
    "--into",
    type=click.Path(path_type=Path),
    default=Path("exports"),
    show_default=True,
    metavar="DIR",
    help="Folder to write the PDF into.",
)
@click.option("--name", metavar="NAME", help="Name of the PDF.  [default: rule and the paper]")
@click.option(
    "--my-plotter",
    metavar="PAIRS",
    help="What the plotter read at marks of the printed ruler; two or more, near and far.",
)
@click.option(
    "--chart",
    type=click.Choice(["sectional", "terminal", "world"], case_sensitive=False),
    default="sectional",
    show_default=True,
    help="The ruler that was read: 1:500,000, 1:250,000 or 1:1,000,000.",
)
@click.option(
    "--edge",
    type=click.Choice(["nm", "sm"], case_sensitive=False),
    default="nm",
    show_default=True,
    help="The edge that was read: nautical or statute miles.",
)
@click.option(
    "--reading-error",
    type=Figure("millimetres", "0.5"),
    default=0.5,
    show_default=True,
    metavar="MM",
    help="How well a mark is read, one standard deviation.",
)
@click.option(
    "--keep",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Where the result is kept.  [default: my-plotter.json in the user's folder]",
)
@click.option("--replace", is_flag=True, help="Replace a file of that name that differs.")
@click.option("--json", "as_json", is_flag=True, help="One JSON document, nothing else.")
@click.pass_context
def rule(ctx: click.Context, /, **given: object) -> None:
    """Print a scale to test a plotter against, or judge the test.

    Without --my-plotter, two sheets are written as a PDF: rulers in NM and SM at the three chart
    scales with bars and a card outline to prove the print, and a compass rose. Print them at 100%
    and prove them with a steel rule or a bank card, never with the plotter under test.

    With --my-plotter, offset and factor of the plotter are fitted to what it read, judged and
    kept. US charts of 1:1,000,000 are no longer published; many plotters still carry the scale.

    A planning aid, not an approved source of navigation: check against current charts and NOTAMs.
    """
    options = _Options(**given)  # type: ignore[arg-type]
    _refuse_what_does_nothing(ctx, testing=options.my_plotter is not None)
    if options.my_plotter is None:
        _print_sheets(options)
    else:
        _judge(options, options.my_plotter)


def _refuse_what_does_nothing(ctx: click.Context, *, testing: bool) -> None:
    """An option of the other half of the command would be passed over in silence."""
    for parameter in PRINTING if testing else TESTING:
        if ctx.get_parameter_source(parameter) is not click.core.ParameterSource.DEFAULT:
            option = "--" + parameter.replace("_", "-")
            reason = (
                "is for printing; leave it out beside --my-plotter"
                if testing
                else "goes with --my-plotter, as in --my-plotter 'ruler 50 = plotter 50.6, …'"
            )
            raise click.UsageError(f"{option} {reason}", ctx)


def _print_sheets(options: _Options) -> None:
    from plotter.cli.rule_report import print_sheets
    from plotter.paper.sizes import paper_named
    from plotter.papers import save_rule

    paper = paper_named(options.paper)
    path = save_rule(options.into, options.name, paper, replace=options.replace)
    print_sheets(path, paper, as_json=options.as_json)


def _judge(options: _Options, pairs: str) -> None:
    from plotter.chart.own_plotter import Edge, OwnPlotter
    from plotter.chart.own_plotter_text import read_pairs
    from plotter.chart.own_plotter_verdict import verdict_of
    from plotter.chart.scales import scale_named
    from plotter.cli.rule_report import print_test
    from plotter.datastore.own_plotter import keep_own_plotter

    edge: Edge = "sm" if options.edge == "sm" else "nm"
    scale = scale_named(options.chart)
    tested = OwnPlotter(scale, edge, read_pairs(pairs, edge), options.reading_error)
    kept, refused = None, None
    if verdict_of(tested).fit_holds:
        try:
            kept = keep_own_plotter(tested, options.keep, replace=options.replace)
        except CannotDo as fault:
            refused = fault
    print_test(tested, kept, as_json=options.as_json)
    if refused is not None:
        raise refused
