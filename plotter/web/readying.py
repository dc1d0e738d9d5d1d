"""What the first answer would wait for, done while the browser opens."""

from __future__ import annotations

import gc

from plotter.errors import PlotterError
from plotter.flight.plan_parse import parsed
from plotter.flight.plan_starter import starter
from plotter.maps.basemap import base_in_view, world_base
from plotter.maps.view import View
from plotter.places.store import Store
from plotter.web.asked import AskedSheet
from plotter.web.sheet import sheet_document

ROUTE, ROUND = "KRST KLSE", View(42.0, -95.0, 46.0, -90.0)


def get_ready(store: Store) -> None:
    """Answer once what a page asks first, and spare what then stands in memory the collector.

    An invented flight loads every module that a sheet needs. What is loaded by then stays until
    the end; searching it for garbage again and again would hold up one answer in fifty by 50 ms.
    """
    try:
        sheet_document(
            AskedSheet(route=ROUTE, plan=parsed(starter("Demo, invented"), "plan")), store
        )
        world_base(store).as_json()
        base_in_view(store, ROUND).as_json()
    except PlotterError:
        return  # whoever asks first is told
    gc.collect()
    gc.freeze()
