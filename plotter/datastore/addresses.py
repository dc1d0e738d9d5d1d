"""Which public address each newer table is fetched from: configuration, never code.

The project's own ``addresses.toml`` lies beside the tables; one in the pilot's own folder replaces
single lines of it, and what is asked for in one call replaces both.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Mapping
from pathlib import Path
from urllib.parse import urlsplit

from plotter.datastore.making.renewing import WITH_AIRPORTS
from plotter.datastore.tables import PLACES
from plotter.errors import FileFault, InputError
from plotter.plain_file import open_plain

FILE = "addresses.toml"
LOOPBACK = ("127.0.0.1", "localhost", "::1")


def addresses(
    tables: Path, own: Path | None = None, asked: Mapping[str, str] | None = None
) -> dict[str, str]:
    """The address of each table: the shipped ones, replaced by the pilot's, replaced by ``asked``.

    Raises FileFault for a file that is none, InputError for an address that may not be used.
    """
    found = _read(tables / FILE) | (_read(own / FILE) if own else {}) | dict(asked or {})
    for name, address in found.items():
        check(name, address)
    return found


def wanted(only: Iterable[str], found: Mapping[str, str]) -> list[str]:
    """The tables to fetch: all that have an address, or ``only`` these; airports bring the rest.

    Raises InputError for a table that is none or has no address.
    """
    asked = list(dict.fromkeys(only)) or list(found)
    if unknown := [name for name in asked if name not in WITH_AIRPORTS]:
        raise InputError(f"no table is called '{unknown[0]}'; use {', '.join(PLACES)}")
    needed = WITH_AIRPORTS if "airports" in asked else [n for n in PLACES if n in asked]
    if missing := [name for name in needed if name not in found]:
        raise InputError(f"there is no address for {', '.join(missing)}; name it in {FILE}")
    return list(needed)


def check(name: str, address: str) -> None:
    """Raise InputError unless an address is https (or a server on this machine), without a login.

    >>> check("runways", "https://example.org/runways.csv")
    >>> check("runways", "http://example.org/runways.csv")
    Traceback (most recent call last):
    plotter.errors.InputError: the address of runways must begin with https://: \
'http://example.org/runways.csv'
    """
    if name not in WITH_AIRPORTS:
        raise InputError(f"no table is called '{name}'; use {', '.join(WITH_AIRPORTS)}")
    try:
        parts = urlsplit(address)
        host, _ = parts.hostname, parts.port
    except ValueError:
        raise InputError(f"the address of {name} is none: {address!r}") from None
    odd = any(not "!" <= letter <= "~" for letter in address)
    if odd or not host or "@" in parts.netloc:
        raise InputError(f"the address of {name} is none: {address!r}")
    if parts.scheme != "https" and not (parts.scheme == "http" and host in LOOPBACK):
        raise InputError(f"the address of {name} must begin with https://: {address!r}")


def _read(path: Path) -> dict[str, str]:
    """The addresses of a file; none where there is no file."""
    try:
        with open_plain(path) as stream:
            content = tomllib.load(stream)
    except (FileNotFoundError, NotADirectoryError):
        return {}
    except (OSError, ValueError) as fault:
        raise FileFault(f"{path} cannot be read: {fault}") from fault
    lines = content.get("addresses")
    if not isinstance(lines, dict) or not all(isinstance(line, str) for line in lines.values()):
        raise FileFault(f'{path} needs a table [addresses] with lines such as runways = "https:…"')
    return lines
