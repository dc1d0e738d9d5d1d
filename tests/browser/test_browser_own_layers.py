"""The pilot's own layers in a browser: drawn, switched, a hostile name shown as text."""

from __future__ import annotations

from typing import Any

import plots
import pytest

from plotter.maps.tiles import MapLayers
from plotter.places.model import OwnShape
from plotter.route.plotting import Plot

pytestmark = pytest.mark.browser
HOSTILE = "<img src=x onerror=ran.push(1)>`${ran.push(2)}`"


def own(plot: Plot) -> tuple[OwnShape, ...]:
    where = plot.route.legs[0].middle
    here = (where.latitude_deg, where.longitude_deg)
    there = (here[0] + 0.05, here[1] + 0.1)
    ring = (here, there, (here[0], there[1]), here)
    return (
        OwnShape("mine", "railways", 1, "", "line", ((here, there),)),
        OwnShape("mine", "lakes", 2, "", "area", (ring,)),
        OwnShape("mine", "towers", 3, HOSTILE, "point", ((there,),)),
    )


def test_they_are_drawn_named_and_switched_off(open_map: Any) -> None:
    plot = plots.short()
    opened = open_map(plot, layers=MapLayers(own=own(plot)))
    for kind in ("own-railways", "own-area", "own-point"):
        assert opened.page.locator(f"path.{kind}").count() == 1
    assert opened.page.locator("path.own-point title").text_content() == HOSTILE
    assert "1 lakes, 1 railways, 1 towers" in opened.page.locator("#own-note").text_content()
    opened.page.locator('#layers input[value="own"]').uncheck()
    assert opened.page.locator("path.own-area").count() == 0
    assert opened.ask("window.ran") == []
    assert opened.complaints == []
