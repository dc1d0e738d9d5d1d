"""``plotter serve``: the planning page in a browser on this machine."""

from __future__ import annotations

import os
from threading import Thread

import click

from plotter.cli.faults import EXIT_INTERRUPTED
from plotter.cli.printing import complain, progress, say
from plotter.datastore.opening import open_store
from plotter.wording import STANDING_SHORT

PORT = 8735
REACHABLE = (
    "CAUTION: whoever can reach {host} can open this page, and what it carries is not encrypted. "
    "Without --host only this machine can."
)


@click.command(
    short_help="Open the planning page: draw the route in a browser.",
    epilog="\b\nExamples:\n  plotter serve --open\n  plotter serve --port 0",
)
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=PORT,
    show_default=True,
    metavar="PORT",
    help="Port of the page; 0 for any free port.",
)
@click.option("--open", "open_it", is_flag=True, help="Open the page in your browser.")
@click.option(
    "--host",
    default="127.0.0.1",
    show_default=True,
    metavar="ADDRESS",
    help="Another address of this machine; others can then reach the page.",
)
@click.option(
    "--tiles",
    metavar="URL",
    help="Online map under the route, off until you select it on the page: the address of its "
    "tiles with {z}, {x} and {y}. Mind its owner's terms.",
)
@click.option(
    "--tiles-attribution",
    default="",
    metavar="TEXT",
    help="Attribution text for the tiles; required with --tiles.",
)
def serve(port: int, open_it: bool, host: str, tiles: str | None, tiles_attribution: str) -> None:
    """Serve the planning page: type or draw the route, and every figure follows.

    The page gets everything from this machine and works without a network.
    A planning aid, not an approved source of navigation: check against current charts, NOTAMs
    and a weather briefing. Airspace, terrain and obstacles are not checked.
    """
    from plotter.maps.tiles import Tiles
    from plotter.web import serving
    from plotter.web.app import make_app
    from plotter.web.guard import Guarding
    from plotter.web.serving import get_ready

    asked = None if tiles is None else Tiles(tiles, tiles_attribution)
    listening = serving.listen(host, port)
    _build_stores()
    port = listening.getsockname()[1]
    names = serving.names_of(host)
    app = make_app(open_store, Guarding.of(names, port, asked.origin if asked else ""), asked)
    Thread(target=get_ready, args=(open_store(),), daemon=True).start()
    _tell(f"http://{names[0]}:{port}/", host, serving.is_loopback(host), open_it)
    serving.serve(app, listening, _give_up)


def _build_stores() -> None:
    """Build what is built once, before anybody waits for an answer."""
    store = open_store(
        progress("Building the table of places (once)"),
        search_progress=progress("Building the index of names (once)"),
    )
    with store:
        store.prove()


def _tell(address: str, host: str, alone: bool, open_it: bool) -> None:
    for words in STANDING_SHORT:
        say(words)
    if not alone:
        complain(REACHABLE.format(host=host))
    say(f"Planning page: {address}  (Ctrl-C stops it)")
    if open_it:
        click.launch(address)


def _give_up() -> None:
    complain("Stopped; a request that was still under way was left.")
    os._exit(EXIT_INTERRUPTED)
