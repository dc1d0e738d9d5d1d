"""What holds of the notes of legs, however the route is changed."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from plotter.flight.plan.leg_ends import by_ends, by_number, ends_of, ends_of_legs

POINTS = st.lists(
    st.sampled_from(["KAAA", "KBBB", "KCCC", "BARN=44.1,-92.5", "44.1,-92.5", "kaaa"]), max_size=8
)


@st.composite
def noted(draw: st.DrawFn) -> tuple[list[str], list[dict[str, object]]]:
    """A route and rows for some of its legs, in any order."""
    points = draw(POINTS)
    legs = range(1, len(points))
    numbers = draw(st.lists(st.sampled_from(legs), unique=True)) if legs else []
    return points, [{"number": number, "distance_nm": 10.5 * number} for number in numbers]


@given(noted())
def test_the_same_route_gives_the_same_rows(given_rows: tuple[list[str], list]) -> None:
    points, rows = given_rows
    made = by_number(by_ends(rows, points), points)
    assert made.rows == rows
    assert made.aside == []


@given(noted(), POINTS)
def test_no_note_is_lost_and_none_moves_to_another_leg(
    given_rows: tuple[list[str], list], after: list[str]
) -> None:
    before, rows = given_rows
    kept = by_ends(rows, before)
    made = by_number(kept, after)
    assert len(made.rows) + len(made.aside) == len(rows)
    numbers = [row["number"] for row in made.rows]
    assert len(set(numbers)) == len(numbers)
    old, new = ends_of_legs(before), ends_of_legs(after)
    for row in made.rows:
        was = round(row["distance_nm"] / 10.5)
        assert new[row["number"] - 1] == old[was - 1]
    assert all(ends_of(row) not in new for row in made.aside)


@given(noted(), POINTS)
def test_a_leg_that_comes_back_has_its_note_again(
    given_rows: tuple[list[str], list], between: list[str]
) -> None:
    before, rows = given_rows
    kept = by_ends(rows, before)
    by_number(kept, between)
    assert by_number(kept, before).rows == rows
