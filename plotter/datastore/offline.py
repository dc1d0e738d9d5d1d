"""GDAL and PROJ kept off the network while they read one of the pilot's files.

GDAL fetches what a file points to (the ``crs`` of a GeoJSON, for one), PROJ the grids of a datum.
GDAL gets a proxy of a kind that does not exist: libcurl refuses it before it connects to anything.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager

NOWHERE = "none://none.invalid"
"""No kind of proxy that libcurl knows; nothing has a name that ends in ``.invalid`` (RFC 2606)."""
SETTINGS = {
    "GDAL_HTTP_PROXY": NOWHERE,
    "GDAL_HTTPS_PROXY": NOWHERE,
    "CPL_VSIL_CURL_ALLOWED_EXTENSIONS": ".none",
}
ENVIRONMENT = {
    # Without it, GDAL would contact a host that the environment exempts from proxies.
    "no_proxy": NOWHERE,
    "PROJ_NETWORK": "OFF",
}


@contextmanager
def offline() -> Iterator[None]:
    """Keep GDAL and PROJ off the network during the block; only the environment is restored."""
    import pyogrio
    from pyproj import network

    pyogrio.set_gdal_config_options(SETTINGS)
    network.set_network_enabled(False)  # type: ignore[attr-defined]
    before = {name: os.environ.get(name) for name in ENVIRONMENT}
    os.environ.update(ENVIRONMENT)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value
