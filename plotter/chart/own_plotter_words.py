"""What is said of a reading that is right for one's own plotter, where the plotter itself is off.

A plotter that was tested is expected to read what it read then. A reading that agrees with that is
no slip of the hand, and is still not the length of the leg: it must never be called right.
"""

from __future__ import annotations

import numpy as np

from plotter.chart.distance_sheet import Sheet
from plotter.chart.own_plotter import Fit
from plotter.chart.own_plotter_verdict import factor_of, is_faulted, offset_of
from plotter.chart.reading_errors import Desk
from plotter.chart.readings import NM_PER_UNIT
from plotter.route.cautions import Caution
from plotter.wording import distance

OWN_PLOTTER = "own_plotter"
"""The code of an explanation: the hand read right, and the plotter is off."""
OWN_CAUTION = "own-plotter"
SHOWS_FROM = 2.0
"""Reading errors by which a plotter that its test does not fault may be off unnoticed."""
_UNITS = {"nm": "NM", "sm": "SM", "km": "km"}


def is_own_fault(sheet: Sheet) -> bool:
    """Whether what is right for the plotter in hand is wrong for a leg it was laid on."""
    own = sheet.desk.own
    laid = [not reading.is_ruler for reading in sheet.readings]
    if own is None or not any(laid):
        return False
    most_mm = float(np.abs(sheet.base_mm - sheet.true_mm).max())
    return is_faulted(own) or most_mm > SHOWS_FROM * sheet.desk.error.distance_mm


def own_fault_words(sheet: Sheet) -> str:
    """By how much a reading is off because of the plotter, and what to fly instead."""
    leg = _worst(sheet)
    typed, true = _typed(sheet, leg), distance(sheet.legs[leg].distance_nm)
    name = sheet.legs[leg].name
    named = f"{name}: " if len(sheet.legs) > 1 and name else ""
    return (
        f"{named}{typed} {_compared(sheet, leg, true)}: as tested it {_shows(sheet, leg)}. Do not "
        f"fly {typed}, corrected or not: measure the leg again with a plotter that passes its "
        f"test, which should show about {true}, and fly that."
    )


def own_fault_beside(sheet: Sheet) -> str:
    """The same in short, for a reading that is unusual even for the plotter."""
    leg = _worst(sheet)
    true = distance(sheet.legs[leg].distance_nm)
    return (
        f"Your plotter, as tested, {_shows(sheet, leg)} where the leg is {true}: do not fly what "
        "it shows."
    )


def own_plotter_cautions(desk: Desk) -> list[Caution]:
    """The caution that the plotter in hand failed its test, whatever the readings."""
    own = desk.own
    if own is None or not is_faulted(own):
        return []
    cure = (
        "Replace it."
        if factor_of(own).is_fault
        else "Lay its zero mark, not its end, and test it again."
    )
    words = (
        f"Your plotter, as tested, {' and '.join(_faults(own))}. No distance read off it should "
        f"be flown, corrected or not. {cure}"
    )
    return [Caution("CHECK", OWN_CAUTION, words)]


def _worst(sheet: Sheet) -> int:
    """The leg on which the plotter is off the most."""
    return int(np.abs(sheet.base_mm - sheet.true_mm).argmax())


def _typed(sheet: Sheet, leg: int) -> str:
    reading = sheet.readings[leg]
    return f"{reading.text} {_UNITS[reading.unit]}"


def _compared(sheet: Sheet, leg: int, true: str) -> str:
    reading = sheet.readings[leg]
    by = reading.value - sheet.legs[leg].distance_nm / NM_PER_UNIT[reading.unit]
    if round(abs(by), 1) == 0.0:
        return f"agrees with the leg of {true}, which your plotter should not"
    size = f"{abs(by):.1f} {_UNITS[reading.unit]} {_side(by)}"
    return f"is {size} for the leg of {true}, and your plotter is why"


def _shows(sheet: Sheet, leg: int) -> str:
    own, unit_mm = sheet.desk.own, float(sheet.unit_mm[leg])
    figure = f"{float(sheet.base_mm[leg]) / unit_mm:.1f} {_UNITS[sheet.readings[leg].unit]}"
    faults = _faults(own) if own else []
    return " and ".join([*faults, f"shows about {figure}"])


def _faults(own: Fit) -> list[str]:
    """What the test of the plotter showed."""
    said = []
    if factor_of(own).is_fault:
        by = own.factor - 1.0
        said.append(f"reads {100 * abs(by):.1f} % {_side(by)}")
    if offset_of(own).is_fault:
        said.append(f"reads {abs(own.offset_mm):.1f} mm {_side(own.offset_mm)} from its zero on")
    return said


def _side(by: float) -> str:
    return "long" if by > 0 else "short"
