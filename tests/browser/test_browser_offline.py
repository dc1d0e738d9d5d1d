"""No request, no complaint: the file is all there is."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import base_cells
import plots
import pytest

from plotter.route.plotting import Plot

pytestmark = pytest.mark.browser

PLOTS: dict[str, Callable[[], Plot]] = {
    "one-leg": plots.rhumb,
    "two-legs": plots.short,
    "across-180": plots.across_180,
    "far-north": plots.far_north,
    "beyond-85": lambda: plots.plot_of(
        [plots.at_point("A", 84.0, 10.0), plots.at_point("B", 88.0, 100.0)]
    ),
    "wholly-beyond-85": lambda: plots.plot_of(
        [plots.at_point("A", 87.0, 10.0), plots.at_point("B", 88.0, 60.0)]
    ),
    "tiny": lambda: plots.plot_of(
        [plots.at_point("A", 44.0, -92.0), plots.at_point("B", 44.001, -92.0)]
    ),
}


@pytest.mark.parametrize("kind", PLOTS)
def test_the_document_is_the_only_request_and_nothing_complains(kind: str, open_map: Any) -> None:
    opened = open_map(PLOTS[kind](), source=base_cells.atoll())
    opened.ask("void theMap.setZoom(theMap.getZoom() + 1)")
    opened.ask("void theMap.panBy([200, 100])")
    opened.settle()
    opened.ask("document.querySelectorAll('#layers input, #whole').forEach((one) => one.click())")
    assert len(opened.requests) == 1
    assert opened.requests[0].startswith("file://")
    assert opened.complaints == []
    assert opened.page.locator("#map_route .casing").count() == 1


def test_the_policy_would_stop_a_request_and_a_foreign_script(open_map: Any) -> None:
    opened = open_map(plots.short())
    opened.ask(
        """() => {
          const script = document.createElement("script");
          script.textContent = "window.ran.push('inline')";
          document.body.appendChild(script);
          const image = document.createElement("img");
          image.src = "https://example.invalid/x.png";
          document.body.appendChild(image);
          document.body.setAttribute("style", "color: red");
        }"""
    )
    opened.page.wait_for_timeout(50)
    assert opened.ask("window.ran") == []
    said = " ".join(opened.complaints)
    for directive in ("script-src", "img-src", "style-src"):
        assert directive in said


def test_without_scripts_the_tables_are_there_all_the_same(open_map: Any) -> None:
    page = open_map(plots.short(), java_script_enabled=False).page
    assert page.locator("#legs-table tbody tr").count() == 2
    assert page.locator("#checkpoints-table tbody tr").count() == 8
    assert page.locator(".cautions li").count() == 2
