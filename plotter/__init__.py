"""Plan a cross-country flight by eye: plot the route, measure it, map it, take it along.

The public face of the library is :mod:`plotter.api`; everything else is private until 1.0.
"""

from __future__ import annotations

__version__ = "0.1.0"
