"""Where this machine keeps what can be built anew: the platform's own cache folder."""

from __future__ import annotations

import os
from pathlib import Path

VARIABLE = "PLOTTER_HOME"


def cache_folder() -> Path | None:
    """The folder for the store; ``PLOTTER_HOME`` moves it. ``None`` where the user has no home.

    The trap: nothing here says that it exists, is a folder or can be written.
    """
    asked = os.environ.get(VARIABLE, "")
    try:
        if asked.strip():
            return Path(asked).expanduser().absolute()
        import platformdirs

        return platformdirs.user_cache_path("plotter", appauthor=False).absolute()
    except (RuntimeError, OSError):
        return None
