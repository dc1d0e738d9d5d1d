"""Text from outside, read whole: UTF-8, with or without a byte-order mark, of a bounded size."""

from __future__ import annotations

from plotter.formats.incoming import Contents, Source

MOST_BYTES = 32_000_000


def read_text(stream: Source, contents: Contents, most_bytes: int = MOST_BYTES) -> str:
    """The text of a file; raises FileFault where it is too long or no UTF-8."""
    data = stream.read(most_bytes + 1)
    if len(data) > most_bytes:
        raise contents.fault(f"is over {most_bytes // 1_000_000} MB; cut it down")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = data[: fault.start].count(b"\n") + 1
        raise contents.fault("is not UTF-8 text; save the file as UTF-8", line) from None
