"""The application: which address answers what. Each function here asks the library once.

They are plain functions, so that each runs in a thread of its own and a slow one holds up no other.
"""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from typing import Annotated, Any

from fastapi import FastAPI, HTTPException, Query, Request, Response
from fastapi.responses import HTMLResponse, JSONResponse
from starlette.types import ASGIApp

from plotter import __version__
from plotter.exports import Job, format_named, name_of
from plotter.formats.document import document
from plotter.maps.base import base_in_view, world_base
from plotter.maps.tiles import Tiles
from plotter.maps.view import View
from plotter.places.store import Store
from plotter.route.plotting import plot_route
from plotter.web import guard
from plotter.web.addresses import add_places, add_plans
from plotter.web.assets import Asset, assets, page
from plotter.web.guard import Guard, Guarding
from plotter.web.guide import REGISTER, guide_page
from plotter.web.offers import disposition, media_type, offered
from plotter.web.own_stores import OwnStores
from plotter.web.requests import AskedExport, AskedPlot, AskedSheet, log_of_route
from plotter.web.sheets import sheet_document

THREADS = 8
"""More would only wait for one another: a request is arithmetic, not waiting."""
KEPT = "private, max-age=86400"
Node = dict[str, Any]
Degrees = Annotated[float, Query(ge=-540, le=540, allow_inf_nan=False)]


def make_app(
    open_store: Callable[[], Store], guarding: Guarding, tiles: Tiles | None = None
) -> ASGIApp:
    """The application behind its guard."""
    app = FastAPI(
        title="Plotter",
        version=__version__,
        description="The JSON of the local planning page. Post with the page's token.",
        docs_url=None,
        redoc_url=None,
        lifespan=_few_threads,
    )
    guard.install(app)
    stores = OwnStores(open_store)
    _pages(app, guarding, tiles)
    _plots(app, stores)
    _bases(app, stores)
    add_places(app, stores)
    add_plans(app, stores)
    return Guard(app, guarding)


@asynccontextmanager
async def _few_threads(_app: FastAPI) -> AsyncIterator[None]:
    from anyio.to_thread import current_default_thread_limiter

    current_default_thread_limiter().total_tokens = THREADS
    yield


def _pages(app: FastAPI, guarding: Guarding, tiles: Tiles | None) -> None:
    files = assets()

    @app.get("/", include_in_schema=False)
    def planning_page() -> HTMLResponse:
        return HTMLResponse(page(guarding.token, tiles))

    @app.get("/page/{name:path}", include_in_schema=False)
    def page_file(name: str, request: Request) -> Response:
        found = files.get(name)
        if found is None:
            raise HTTPException(404)
        return _cached(found, request.headers.get("if-none-match"))

    @app.get("/guide/{name:path}", include_in_schema=False)
    @app.get(REGISTER, include_in_schema=False)
    def guide(request: Request) -> HTMLResponse:
        found = guide_page(request.url.path)
        if found is None:
            raise HTTPException(404)
        return HTMLResponse(found)

    @app.get("/api/session")
    def session() -> Node:
        """The token of this start, for a page that was open before it."""
        return {"token": guarding.token}


def _cached(found: Asset, known: str | None) -> Response:
    headers = {"cache-control": "no-cache", "etag": found.tag}
    if known == found.tag:
        return Response(status_code=304, headers=headers)
    return Response(found.body, media_type=found.kind, headers=headers)


def _plots(app: FastAPI, stores: OwnStores) -> None:
    @app.post("/api/plot", responses=guard.DESCRIBED)
    def plot(asked: AskedPlot) -> JSONResponse:
        """The document that ``plotter plot --json`` prints."""
        plotted = plot_route(asked.route, stores.mine(), asked.wishes())
        return JSONResponse(document(plotted, {}))

    @app.post("/api/sheet", responses=guard.DESCRIBED)
    def sheet(asked: AskedSheet) -> JSONResponse:
        """What the page draws and prints, after one change to the route."""
        return JSONResponse(sheet_document(asked, stores.mine()))

    @app.get("/api/formats")
    def formats() -> list[Node]:
        """The formats there are to export to."""
        return offered()

    @app.post("/api/export/{name}", responses={**guard.DESCRIBED, 200: {"content": {"*/*": {}}}})
    def export(name: str, asked: AskedExport) -> Response:
        """A file of the route, byte for byte as ``plotter plot`` writes it."""
        made = format_named(name)
        store = stores.mine()
        log = log_of_route(asked.plan, asked, store) if asked.plan is not None else None
        plotted = log.plot if log else plot_route(asked.route, store, asked.wishes())
        body = made.write(Job(plotted, store, asked.sm, asked.choices, log))
        headers = {"content-disposition": disposition(f"{name_of(plotted)}{made.suffix}")}
        return Response(body, media_type=media_type(made.suffix), headers=headers)


def _bases(app: FastAPI, stores: OwnStores) -> None:
    @app.get("/api/base/world")
    def world() -> JSONResponse:
        """The base of the map for the whole world."""
        base = world_base(stores.mine()).as_json()
        return JSONResponse(base, headers={"cache-control": KEPT})

    @app.get("/api/base", responses=guard.DESCRIBED)
    def base(south: Degrees, west: Degrees, north: Degrees, east: Degrees) -> JSONResponse:
        """The base of the map inside a view, longitudes unrolled."""
        if not (-90 <= south < north <= 90 and west < east <= west + 360):
            body = guard.error("view", "south must be below north and west before east")
            return JSONResponse(body, 422)
        found = base_in_view(stores.mine(), View(south, west, north, east)).as_json()
        return JSONResponse(found, headers={"cache-control": KEPT})
