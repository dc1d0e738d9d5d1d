"""An online map that the pilot may lay under the route: its address, checked, and its owner."""

from __future__ import annotations

import re
from dataclasses import dataclass

from plotter.errors import InputError

_ADDRESS = re.compile(r"(?P<origin>https?://[a-z0-9.\-]+(:\d+)?)/[^\s;,'\"\\]*", re.I)
EXAMPLE = "https://tiles.example/{z}/{x}/{y}.png"


@dataclass(frozen=True, slots=True)
class Tiles:
    """Where tiles come from, empty where none were asked for, and whom to credit."""

    address: str = ""
    credit: str = ""
    origin: str = ""

    @classmethod
    def of(cls, address: str, credit: str = "") -> Tiles:
        """Tiles at an address; raises InputError for one that cannot be.

        >>> Tiles.of(EXAMPLE).origin
        'https://tiles.example'
        """
        if not address:
            return cls()
        found = _ADDRESS.fullmatch(address)
        if found is None or not all(part in address for part in ("{z}", "{x}", "{y}")):
            raise InputError(
                f"'{address}' is not the address of tiles; type one as in {EXAMPLE}",
                code="tiles",
                candidates=(EXAMPLE,),
            )
        return cls(address, credit, found["origin"].lower())
