"""A plotted route printed for people: legs, checkpoints, cautions, files."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from plotter import wording
from plotter.cli.printing import brief, paragraph, say, shown, table
from plotter.earth.units import sm_from_nm
from plotter.messages import Message, text
from plotter.route.checkpoints import Checkpoint
from plotter.route.editing import item15_route, written_route
from plotter.route.parts import LegPart
from plotter.route.plotting import Plot
from plotter.route.values import Caution
from plotter.wording import tenths


def print_plot(plot: Plot, files: Mapping[str, Path], sm: bool) -> None:
    """Print the whole of it on standard output."""
    blocks = [
        _heading(plot, sm),
        _legs(plot, sm),
        _checkpoints(plot, sm),
        _cautions(plot),
        files_block(files),
        _foot(plot),
    ]
    say("\n\n".join(block for block in blocks if block))


def print_rehearsal(files: Mapping[Path, Message], changes: Sequence[Message]) -> None:
    """Print what a dry run found: files as they would be, changes for the unit."""
    rows = [f"  {shown(str(path))} {text(said, 'console')}" for path, said in files.items()]
    said = [paragraph(shown(text(each)), "  ", "  ") for each in changes] or ["  nothing"]
    say("\n".join(["", "Nothing was written. Files:", *rows, "Changed for the unit:", *said]))


def _heading(plot: Plot, sm: bool) -> str:
    line = "rhumb lines" if plot.route.line == "rhumb" else "great-circle legs"
    return "\n".join(
        [
            f"{shown(plot.name)}: {_distance(plot.route.distance_nm, sm)}, {line}, "
            f"variation for {plot.date.isoformat()} at {wording.altitude(plot.altitude_ft)}",
            _written(plot),
        ]
    )


def _written(plot: Plot) -> str:
    """The route as it can be typed again, and as it is filed where that is not the same."""
    written, filed = written_route(plot.route.waypoints), item15_route(plot.route.waypoints)
    lines = [paragraph(f"Written out: {written}")]
    if filed != written:
        lines.append(paragraph(f"To file, as item 15 has it, rounded to the minute: {filed}"))
    return "\n".join(lines)


def _distance(distance_nm: float, sm: bool) -> str:
    text = wording.distance(distance_nm)
    return f"{text} ({sm_from_nm(distance_nm):.1f} SM)" if sm else text


def _legs(plot: Plot, sm: bool) -> str:
    headers = ["Leg", "From", "To", "TC", "VAR", "MC", "NM"]
    rows = [_leg_row(part) + _sm(part.printed_nm, sm) for part in plot.parts]
    total = ["", "", "Total", "", "", "", f"{tenths(plot.route.distance_nm) / 10.0:.1f}"]
    rows.append(total + _sm(plot.route.distance_nm, sm))
    legs = table(headers + (["SM"] if sm else []), rows, "rllrrrr" + "r" * sm)
    return f"{wording.LEGS_ADD_UP}\n\n{legs}"


def _leg_row(part: LegPart) -> list[str]:
    return [
        part.name,
        brief(part.start_name),
        brief(part.end_name),
        wording.course(part.true_course_deg, "T"),
        wording.variation(part.variation_deg_east),
        wording.magnetic_course(part.true_course_deg, part.variation_deg_east),
        f"{part.printed_nm:.1f}",
    ]


def _sm(distance_nm: float, sm: bool) -> list[str]:
    return [f"{sm_from_nm(distance_nm):.1f}"] if sm else []


def _checkpoints(plot: Plot, sm: bool) -> str:
    if not plot.checkpoints:
        return ""
    headers = ["CP", "Leg", "Position", "NM gone", "NM to go"]
    rows = [
        [
            mark.name,
            str(mark.leg_number),
            wording.position(mark.position),
            f"{tenths(mark.distance_from_start_nm) / 10.0:.1f}",
            f"{_to_go(plot, mark):.1f}",
            *_sm(mark.distance_from_start_nm, sm),
        ]
        for mark in plot.checkpoints
    ]
    return table(headers + (["SM gone"] if sm else []), rows, "lrlrr" + "r" * sm)


def _to_go(plot: Plot, mark: Checkpoint) -> float:
    """What is left as print has it: the whole distance less what is gone."""
    return (tenths(plot.route.distance_nm) - tenths(mark.distance_from_start_nm)) / 10.0


def _cautions(plot: Plot) -> str:
    return "\n".join(caution_paragraph(caution) for caution in plot.cautions)


def caution_paragraph(caution: Caution) -> str:
    """One caution with its rank in front and its source behind."""
    source = f" [{caution.source}]" if caution.source else ""
    words = shown(caution.text_at("console"))
    return paragraph(words + source, " " * 7, f"{caution.rank:<7}")


def files_block(files: Mapping[str, Path]) -> str:
    """The files that were written, by format."""
    if not files:
        return ""
    rows = [f"  {name:<7} {shown(str(path))}" for name, path in files.items()]
    return "Files:\n" + "\n".join(rows)


def data_dates(plot: Plot) -> str:
    """What the figures rest on, with its dates."""
    return (
        f"Airports of {plot.data.airports}, navaids of {plot.data.navaids}; "
        f"{plot.data.magnetic_model}, valid to {plot.data.magnetic_model_valid_to}."
    )


def _foot(plot: Plot) -> str:
    texts = (*wording.STANDING_SHORT, data_dates(plot))
    return "\n".join(paragraph(text) for text in texts)
