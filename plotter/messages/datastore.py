"""What the program says about tables, stores, layers and newer data."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {
    # tables
    "no-tables": (
        "the tables of places are missing: no {register} in {folders: or }; install the package "
        "again, or fetch the data folder of the checkout again"
    ),
    "data.install-again": (
        "install the package again, or fetch the data folder of the checkout again"
    ),
    "data.fetch-again": "fetch the tables again, or restore those shipped with the program",
    "data.register": (
        "{path} is not a register of tables ({fault}); install the package again, or fetch the "
        "data folder of the checkout again"
    ),
    "data.unreadable": "{path} cannot be read: {reason}; {again}",
    "data.not-registered": (
        "{path} is not the file its register describes: its sha256 differs, perhaps because line "
        "endings were changed; {again}"
    ),
    "data.columns": (
        "{file} has other columns than expected: {columns:, }; install the package again, or fetch "
        "the data folder of the checkout again"
    ),
    "data.not-lines": (
        "{file} contains control characters, or does not have the {rows:,} rows of one line each "
        "that its register gives; install the package again, or fetch the data folder of the "
        "checkout again"
    ),
    # store files
    "data.row": "the {table} row '{row}' cannot be read: {fault}",
    "data.table": "the table {table} cannot be read: {fault}",
    "data.stays-damaged": (
        "the store of places is still damaged after it was rebuilt; check the disk, or use another "
        "folder for the program's files"
    ),
}

CONSOLE: Mapping[str, str] = {
    "data.fetch-again": (
        "enter 'plotter data refresh' to fetch it again, or 'plotter data restore --shipped' to do "
        "without it"
    ),
}
