"""Shared by all tests: the real store, built once for the run and kept away from the user's."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest
from examples import load_profile

if TYPE_CHECKING:
    from served import Served

    from plotter.places.store import Store

load_profile()


@pytest.fixture(scope="session", autouse=True)
def plotter_home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """One cache for all workers of a run, never the user's own."""
    home = tmp_path_factory.getbasetemp().parent / "plotter-home"
    before = os.environ.get("PLOTTER_HOME")
    os.environ["PLOTTER_HOME"] = str(home)
    yield home
    if before is None:
        del os.environ["PLOTTER_HOME"]
    else:
        os.environ["PLOTTER_HOME"] = before


@pytest.fixture(scope="session")
def real_store(plotter_home: Path) -> Store:
    """The store of the real tables."""
    from plotter.datastore.opening import open_store

    return open_store()


@pytest.fixture(scope="session")
def page(plotter_home: Path) -> Iterator[Served]:
    """The planning page, served for the whole run."""
    from served import serving_page

    with serving_page() as served:
        yield served
