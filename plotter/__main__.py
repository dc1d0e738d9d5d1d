"""``python -m plotter`` does what the ``plotter`` command does."""

from __future__ import annotations

from plotter.cli.main import main

if __name__ == "__main__":
    main()
