"""What the program says about tables, stores, layers and newer data."""

from __future__ import annotations

from collections.abc import Mapping

COMMON: Mapping[str, str] = {
    # store files
    "data.row": "the {table} row '{row}' cannot be read: {fault}",
    "data.table": "the table {table} cannot be read: {fault}",
    "data.stays-damaged": (
        "the store of places is still damaged after it was rebuilt; check the disk, or use another "
        "folder for the program's files"
    ),
}
