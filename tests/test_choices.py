"""Choices for a GPS unit: checked when they are made."""

from __future__ import annotations

import pytest

from plotter.errors import InputError
from plotter.formats.unit_limits import DEFAULT_CHOICES, GPX_AS, NAME_PROFILES, Choices


def test_the_defaults_change_nothing() -> None:
    assert Choices(gpx_checkpoints=False, gpx_as="route", names="full") == DEFAULT_CHOICES
    assert DEFAULT_CHOICES.name_limit is None


@pytest.mark.parametrize("gpx_as", GPX_AS)
@pytest.mark.parametrize("names", NAME_PROFILES)
def test_every_word_offered_is_taken(gpx_as: str, names: str) -> None:
    choices = Choices(gpx_as=gpx_as, names=names)  # type: ignore[arg-type]
    assert choices.name_limit == {"full": None, "10": 10, "6": 6}[names]


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"gpx_as": "line"}, "use route, track or both"),
        ({"gpx_as": ""}, "use route, track or both"),
        ({"names": "8"}, "use full, 10 or 6"),
        ({"names": 6}, "use full, 10 or 6"),
    ],
)
def test_other_words_are_refused_with_those_to_use(wrong: dict[str, str], words: str) -> None:
    with pytest.raises(InputError) as caught:
        Choices(**wrong)  # type: ignore[arg-type]
    assert words in caught.value.message
    assert caught.value.code == "choice"
    assert caught.value.candidates
