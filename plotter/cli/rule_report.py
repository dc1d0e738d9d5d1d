"""The printed scale and the test of a plotter, said for people and for programs."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from plotter.chart.own_plotter import PAGE_ERROR, SURE, Fit, OwnPlotter
from plotter.chart.own_plotter_verdict import FACTOR_LIMIT, OFFSET_LIMIT_MM, notes_of, verdict_of
from plotter.cli.printing import paragraph, say, table
from plotter.formats.own_plotter_file import own_plotter_document
from plotter.paper.sizes import Paper
from plotter.wording import STANDING

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
    return "\n".join(paragraph(text) for text in STANDING)


def _say_json(document: dict[str, Any]) -> None:
    say(json.dumps(document, ensure_ascii=True, allow_nan=False))
