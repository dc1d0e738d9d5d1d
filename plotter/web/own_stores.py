"""A store of places for each thread: nothing that keeps state is shared by two requests.

The magnetic model is each thread's own already (:mod:`plotter.earth.magnetism`).
"""

from __future__ import annotations

import threading
from collections.abc import Callable

from plotter.places.store import Store


class OwnStores:
    """Opens a store when a thread first asks for it.

    Where the first lies in memory (no folder would take its file) all share it, behind its own
    lock: to build another for each thread would take seconds and a hundred megabytes.
    """

    def __init__(self, opened: Callable[[], Store]) -> None:
        self._opened = opened
        self._first = opened()
        self._own = threading.local()

    def mine(self) -> Store:
        """The store of the thread that asks."""
        store: Store | None = getattr(self._own, "store", None)
        if store is None:
            store = self._first if self._first.path is None else self._opened()
            self._own.store = store
        return store
