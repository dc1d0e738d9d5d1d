"""``plotter rule``: print a scale to test a plotter against, and judge what the plotter read."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, NamedTuple

import click

from plotter.chart.own_plotter import PAGE_ERROR, SURE, Fit, OwnPlotter
from plotter.chart.own_plotter_verdict import FACTOR_LIMIT, OFFSET_LIMIT_MM, notes_of, verdict_of
from plotter.cli.parameters import Figure
from plotter.cli.printing import paragraph, say, table
from plotter.errors import CannotDo
from plotter.formats.own_plotter_file import own_plotter_document
from plotter.messages import message, text
from plotter.paper.style import Paper
from plotter.wording import STANDING, STANDING_SHORT

# The printed scale and the test of a plotter, said for people and for programs.

PROVE = (
    "Print it at 100%, never “fit to page”. Prove it with a steel rule or a bank card, never with "
    "the plotter under test; note what the plotter reads on the second sheet."
)


def print_sheets(path: Path, paper: Paper, *, as_json: bool) -> None:
    """Say where the sheets are and what to do with them."""
    if as_json:
        _say_json(
            {
                "schema": "rule-1",
                "paper": paper.name,
                "files": {"pdf": str(path)},
                "text": PROVE,
                "cautions": list(STANDING),
            }
        )
        return
    said = [f"Scale to test a plotter, two sheets of {paper.title}: {path}", paragraph(PROVE)]
    say("\n\n".join([*said, _cautions()]))


def print_test(tested: OwnPlotter, kept: Path | None, *, as_json: bool) -> None:
    """Say what the pairs show, how sure it is, and what to do."""
    if as_json:
        document = own_plotter_document(tested)
        _say_json(document | {"kept": None if kept is None else str(kept)})
        return
    verdict = verdict_of(tested)
    blocks = [_heading(tested), _pairs(tested)]
    if tested.fit is not None:
        blocks.append(_fit(tested, tested.fit))
    blocks += [paragraph(text) for text in notes_of(tested)]
    blocks.append(paragraph(verdict.text))
    if verdict.next_measurement:
        blocks.append(paragraph(verdict.next_measurement))
    blocks.append("Nothing was kept." if kept is None else f"Kept in {kept}")
    say("\n\n".join([*blocks, _cautions()]))


def _heading(tested: OwnPlotter) -> str:
    scale = tested.scale
    return (
        f"Your plotter on the printed ruler: {scale.title.lower()}, 1:{scale.denominator:,}, "
        f"{tested.edge.upper()} edge"
    )


def _pairs(tested: OwnPlotter) -> str:
    unit = tested.edge.upper()
    fit = tested.fit
    left_over = [_signed(each) for each in fit.left_over_mm] if fit else [""] * len(tested.pairs)
    rows = [
        [f"{pair.ruler:g}", f"{pair.plotter:.{pair.decimals}f}", _gap(tested, index), left]
        for index, (pair, left) in enumerate(zip(tested.pairs, left_over, strict=True))
    ]
    return table([f"Ruler {unit}", f"Plotter {unit}", "Apart mm", "Left over mm"], rows, "rrrr")


def _gap(tested: OwnPlotter, index: int) -> str:
    pair = tested.pairs[index]
    return _signed((pair.plotter - pair.ruler) * tested.mile_mm)


def _signed(length_mm: float) -> str:
    return f"{length_mm:+.1f}" if round(length_mm, 1) else "0.0"


def _fit(tested: OwnPlotter, fit: Fit) -> str:
    unit, mile_mm = tested.edge.upper(), tested.mile_mm
    offset, sure = fit.offset_mm, SURE * fit.offset_sd_mm
    rows = [
        f"Offset  {offset / mile_mm:+.2f} {unit} ± {sure / mile_mm:.2f}  "
        f"({offset:+.1f} mm ± {sure:.1f})",
        f"Factor  {fit.factor:.4f} ± {SURE * fit.factor_sd:.4f}  "
        f"(reads {abs(fit.factor - 1):.1%} {'long' if fit.factor >= 1 else 'short'})",
    ]
    return "\n".join([*rows, "", paragraph(_error_words(tested, fit))])


def _error_words(tested: OwnPlotter, fit: Fit) -> str:
    freedom = fit.degrees_of_freedom
    count = len(tested.pairs)
    checks = (
        "0 degrees of freedom: the line passes through both, and nothing is left to prove it"
        if freedom == 0
        else f"{freedom} degree{'s' if freedom > 1 else ''} of freedom, chi-square "
        f"{fit.chi_squared:.1f}"
    )
    return (
        f"± holds 95 of 100 errors. It rests on a reading error of {tested.reading_error_mm:g} mm "
        f"(one standard deviation), the rounding of the digits typed, and {PAGE_ERROR:.2%} for "
        f"the proved page. {count} pairs for two unknowns: {checks}. A fault counts from "
        f"{FACTOR_LIMIT:.0%} in the factor or {OFFSET_LIMIT_MM:g} mm in the offset."
    )


def _cautions() -> str:
    return "\n".join(paragraph(text) for text in STANDING_SHORT)


def _say_json(document: dict[str, Any]) -> None:
    say(json.dumps(document, ensure_ascii=True, allow_nan=False))


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
    short_help="Print a scale to test a plotter, or judge its readings.",
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
@click.option("--name", metavar="NAME", help="Name of the PDF.  [default: rule and paper size]")
@click.option(
    "--my-plotter",
    metavar="PAIRS",
    help="Readings of your plotter at marks of the printed ruler; two or more, near and far.",
)
@click.option(
    "--chart",
    type=click.Choice(["sectional", "terminal", "world"], case_sensitive=False),
    default="sectional",
    show_default=True,
    help="Ruler you read: 1:500,000, 1:250,000 or 1:1,000,000.",
)
@click.option(
    "--edge",
    type=click.Choice(["nm", "sm"], case_sensitive=False),
    default="nm",
    show_default=True,
    help="Edge you read: nautical or statute miles.",
)
@click.option(
    "--reading-error",
    type=Figure("millimetres", "0.5"),
    default=0.5,
    show_default=True,
    metavar="MM",
    help="Reading error, one standard deviation.",
)
@click.option(
    "--keep",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="File for the result.  [default: my-plotter.json in your user folder]",
)
@click.option("--replace", is_flag=True, help="Replace an existing file that differs.")
@click.option("--json", "as_json", is_flag=True, help="Print one JSON document only.")
@click.pass_context
def rule(ctx: click.Context, /, **given: object) -> None:
    """Print a scale to test a plotter, or judge the test.

    Without --my-plotter, it writes two sheets as a PDF: rulers in NM and SM at the three chart
    scales, with bars and a card outline to check the print, and a compass rose. Print them at 100%
    and check them with a steel rule or a bank card, never with the plotter you test.

    With --my-plotter, it fits offset and factor of the plotter to its readings, judges them and
    stores them. US charts of 1:1,000,000 are no longer published; many plotters still have the
    scale.

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
            key = "usage.printing" if testing else "usage.testing"
            raise click.UsageError(text(message(key, option=option)), ctx)


def _print_sheets(options: _Options) -> None:
    from plotter.exports import save_rule
    from plotter.paper.style import paper_named

    paper = paper_named(options.paper)
    path = save_rule(options.into, options.name, paper, replace=options.replace)
    print_sheets(path, paper, as_json=options.as_json)


def _judge(options: _Options, pairs: str) -> None:
    from plotter.chart.own_plotter import Edge, OwnPlotter, read_pairs
    from plotter.chart.own_plotter_verdict import verdict_of
    from plotter.chart.scales import scale_named
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
