"""Words on the map: figures, names made visible, angles that keep text upright."""

from __future__ import annotations

import awkward
import plots
import pytest

from plotter.formats.names import DIRECTION_ORDERS
from plotter.maps import labels
from plotter.places.model import Frequency, Runway


@pytest.mark.parametrize("kind", awkward.NAMES)
def test_any_name_becomes_text_that_a_file_can_carry(kind: str) -> None:
    shown = labels.visible(awkward.NAMES[kind])
    shown.encode("utf-8")
    assert not [letter for letter in shown if ord(letter) < 0x20 or 0x7F <= ord(letter) < 0xA0]
    assert "\u2028" not in shown
    assert "\u2029" not in shown


@pytest.mark.parametrize("kind", awkward.NAMES)
def test_nothing_is_dropped_in_silence(kind: str) -> None:
    assert len(labels.visible(awkward.NAMES[kind])) == len(awkward.NAMES[kind])


def test_ordinary_names_of_all_scripts_stay_as_they_are() -> None:
    for kind in ("latin", "chinese", "right-to-left", "combining", "astral", "emoji"):
        assert labels.visible(awkward.NAMES[kind]) == awkward.NAMES[kind]


def test_an_emoji_younger_than_this_python_stays() -> None:
    assert labels.visible("\U0001fae9 field") == "\U0001fae9 field"


def test_control_characters_are_shown_by_their_pictures() -> None:
    assert labels.visible("a\x00b\x1bc\x7fd\x9be") == "a␀b␛c␡d�e"


def test_no_order_to_turn_the_writing_is_left_and_none_of_ours_can_be_closed_by_a_name() -> None:
    orders = "".join(map(chr, (*range(0x202A, 0x202F), *range(0x2066, 0x206A))))
    assert set(orders) == set(DIRECTION_ORDERS)
    assert labels.visible(orders) == "�" * len(orders)
    name = awkward.NAMES["right-to-left"]
    kept = labels.apart(f"{name}\u2069 12 NM")
    assert kept == f"\u2068{name}\u2069� 12 NM"


def test_a_plain_line_is_not_touched_by_keeping_names_apart() -> None:
    for kind in ("latin", "chinese", "emoji", "combining"):
        assert labels.apart(awkward.NAMES[kind]) == awkward.NAMES[kind]


@pytest.mark.parametrize("letters", [1, 5, 22])
def test_a_shortened_name_is_never_longer_than_asked(letters: int) -> None:
    for name in awkward.NAMES.values():
        assert len(labels.shortened(name, letters)) <= letters


def test_a_name_that_fits_is_not_touched() -> None:
    assert labels.shortened("W" * 22) == "W" * 22
    assert labels.shortened("W" * 23) == "W" * 21 + "…"


def test_course_stands_with_its_reference_true_first() -> None:
    leg = plots.mountain().parts[0]
    true, magnetic = labels.courses(leg).split("\u2002")
    assert true.endswith("°T")
    assert magnetic.endswith("°M")
    assert int(true[:3]) == round(leg.true_course_deg)
    assert int(magnetic[:3]) == round(leg.magnetic_course_deg)


def test_statute_miles_stand_beside_nautical_ones_only_when_asked() -> None:
    assert labels.distances(42.34) == "42.3 NM"
    # 1 NM is 1852 m, 1 SM 1609.344 m: 42.34 NM are 48.72 SM.
    assert labels.distances(42.34, sm=True) == "42.3 NM\u200248.7 SM"


@pytest.mark.parametrize(("off", "said"), [(0.049, "on the line"), (-0.06, "0.1 NM left")])
def test_a_hair_beside_the_line_is_on_it(off: float, said: str) -> None:
    assert labels.off(off) == said


def test_label_angle_is_upright_on_every_course() -> None:
    for plot in (plots.short(), plots.mountain(), plots.across_180(), plots.far_north()):
        for leg in plot.route.legs:
            angle = labels.angle_deg(leg.line)
            assert -90.0 <= angle <= 90.0
            # Laid along the line: the course less 90° and the label differ by whole half turns.
            assert (leg.true_course_deg - 90.0 - angle) % 180.0 == pytest.approx(0.0, abs=1e-9)


def runway(**changes: object) -> Runway:
    whole: dict[str, object] = {
        "end_1": "13",
        "end_2": "31",
        "length_ft": 4200.0,
        "width_ft": 75.0,
        "surface": "ASPHALT",
        "lighted": True,
        "closed": False,
        "heading_1_true_deg": 134.0,
        "heading_2_true_deg": 314.0,
    }
    return Runway(**(whole | changes))  # type: ignore[arg-type]


def test_a_runway_in_one_line() -> None:
    assert labels.runway(runway()) == "13/31: 4,200 × 75 ft, asphalt, 134°T / 314°T, lighted"


def test_what_the_data_lacks_of_a_runway_is_said_or_left_out_never_made_up() -> None:
    bare = runway(
        length_ft=None,
        width_ft=None,
        surface="",
        lighted=False,
        heading_1_true_deg=None,
        heading_2_true_deg=None,
    )
    assert labels.runway(bare) == "13/31: length not in the data"
    assert labels.runway(runway(end_1="", end_2="")).startswith("unnamed: ")
    assert labels.runway(runway(closed=True)).endswith("lighted, closed")


def test_a_frequency_in_one_line_with_its_unit() -> None:
    assert labels.frequency(Frequency("CTAF", "Demo", 122.8)) == "CTAF 122.800 MHz Demo"
    assert labels.frequency(Frequency("CTAF", "CTAF", 122.8)) == "CTAF 122.800 MHz"


def test_heights_that_are_unknown_are_not_in_the_data() -> None:
    assert labels.height(None) == "not in the data"
    assert labels.height(0.0) == "0 ft"
    assert labels.height(-12.0) == "-12 ft"


def test_an_airport_goes_by_its_most_official_code() -> None:
    assert labels.code(plots.airport("XDMA", "Demo", 44.0, -92.0)) == "XDMA"
