"""The small file that keeps a tested plotter: JSON, schema ``own-plotter-1``.

The pairs in it are what counts: when it is read, the fit is made again from them.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from plotter.chart.own_plotter import OwnPlotter, Pair
from plotter.chart.own_plotter_verdict import notes_of, verdict_of
from plotter.chart.scales import scale_named
from plotter.errors import FileFault, InputError, Where
from plotter.messages import Message, message
from plotter.plain_file import open_plain
from plotter.wording import STANDING

SCHEMA = "own-plotter-1"
MOST_BYTES = 100_000


def own_plotter_document(tested: OwnPlotter) -> dict[str, Any]:
    """A tested plotter as plain values: what was read, what follows, what to do."""
    verdict = verdict_of(tested)
    return {
        "schema": SCHEMA,
        "chart": tested.scale.name,
        "edge": tested.edge,
        "reading_error_mm": tested.reading_error_mm,
        "pairs": [
            {"ruler": pair.ruler, "plotter": pair.plotter, "decimals": pair.decimals}
            for pair in tested.pairs
        ],
        "fitted": _fitted(tested),
        "verdict": verdict.code,
        "text": verdict.text,
        "next_measurement": verdict.next_measurement,
        "notes": list(notes_of(tested)),
        "cautions": list(STANDING),
    }


def own_plotter_bytes(tested: OwnPlotter) -> bytes:
    """The file of a tested plotter; the same test gives the same bytes."""
    return (json.dumps(own_plotter_document(tested), indent=2) + "\n").encode("ascii")


def read_own_plotter(path: Path) -> OwnPlotter:
    """The plotter a file keeps; raises FileFault where it is missing, damaged or another thing."""
    try:
        with open_plain(path) as stream:
            data = stream.read(MOST_BYTES + 1)
        if len(data) > MOST_BYTES:
            raise ValueError("it is too large")
        return _tested(json.loads(data.decode("utf-8")))
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise _fault(path, message("file.unreadable", reason=reason)) from fault
    except InputError as fault:
        raise _fault(path, message("file.bad-plotter-test", reason=fault.said)) from fault
    except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as fault:
        raise _fault(path, message("file.no-plotter-test", schema=SCHEMA)) from fault


def _fitted(tested: OwnPlotter) -> dict[str, Any] | None:
    fit = tested.fit
    if fit is None:
        return None
    per_nm = tested.scale.mm_per_nm
    return {
        "offset_nm": fit.offset_mm / per_nm,
        "offset_sd_nm": fit.offset_sd_mm / per_nm,
        "offset_mm": fit.offset_mm,
        "offset_sd_mm": fit.offset_sd_mm,
        "factor": fit.factor,
        "factor_sd": fit.factor_sd,
        "covariance_mm": fit.covariance_mm,
        "left_over_mm": list(fit.left_over_mm),
        "chi_squared": fit.chi_squared,
        "degrees_of_freedom": fit.degrees_of_freedom,
    }


def _tested(held: dict[str, Any]) -> OwnPlotter:
    if held["schema"] != SCHEMA:
        raise ValueError(held["schema"])
    pairs = tuple(_pair(each) for each in held["pairs"])
    scale = scale_named(held["chart"])
    return OwnPlotter(scale, held["edge"], pairs, _number(held["reading_error_mm"]))


def _pair(held: dict[str, Any]) -> Pair:
    decimals = held["decimals"]
    if not isinstance(decimals, int) or not 0 <= decimals <= 9:
        raise ValueError(decimals)
    return Pair(_number(held["ruler"]), _number(held["plotter"]), decimals)


def _number(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError(value)
    return float(value)


def _fault(path: Path, what: Message) -> FileFault:
    where = Where(file=str(path))
    return FileFault("file.own-plotter", where=where, file=str(path), what=what)
