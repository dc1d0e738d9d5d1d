"""Hostile and merely awkward names, texts and files: every reader and writer is run through them.

Nothing here comes from a real route; each entry is one thing that has broken a writer somewhere.
"""

from __future__ import annotations

NAMES: dict[str, str] = {
    "backtick": "`alert(1)`",
    "template": "${alert(1)}",
    "double-brace": "{{7*7}} {% raw %}",
    "closing-script": "</script><script>alert(1)</script>",
    "image-onerror": "<img src=x onerror=alert(1)>",
    "comment": "<!-- --> -->",
    "cdata-end": "end ]]> of",
    "cdata-start": "<![CDATA[ start",
    "cdata-whole": "<![CDATA[<b>bold</b>]]>",
    "processing": "<?xml version='1.0'?>",
    "doctype": "<!DOCTYPE a [<!ENTITY b 'c'>]>",
    "entity": "&amp; &lt; &nosuch; &#0; &#x41;",
    "ampersand": "Salt & Pepper",
    "quotes": "the \"Notch\" and the 'Gap'",
    "backslash": r"\u0041 \n \x41 C:\temp",
    "percent": "%s %(name)s %n {0} {name}",
    "formula": '=HYPERLINK("http://example.invalid","x")',
    "formula-plus": "+1+1",
    "formula-minus": "-2+3",
    "formula-at": "@SUM(A1)",
    "formula-wide": "＝1+1",
    "formula-after-semicolon": "a; =1+1",
    "guard": "'=1+1",
    "comma": "one, two; three",
    "right-to-left": "\u05e9\u05d3\u05d4 \u0645\u0637\u0627\u0631",
    "override": "exe\u202egpx.lmth",
    "isolate": "\u2067abc\u2069",
    "emoji": "\U0001f6e9\ufe0f \U0001f468\u200d\u2708\ufe0f field",
    "astral": "\U00020bb7\U0001d538",
    "combining": "e\u0301 a\u0300\u0316 Z\u0351\u0344",
    "line-separator": "one\u2028two\u2029three",
    "line-breaks": "one\ntwo\r\nthree\x0bfour\x85five",
    "tab": "one\ttwo",
    "no-break": "one\u00a0two",
    "byte-order-mark": "\ufeffmarked",
    "control": "bell\x07 escape\x1b[31m null\x00 delete\x7f c1\x9b",
    "noncharacter": "non\ufffe\uffffchar",
    "lone-surrogate": "half \ud83d pair \udc80",
    "long": "W" * 300,
    "too-long": "W\u00e9" * 400,
    "spaces": "   wide    gaps   ",
    "only-control": "\x00\x01\x02",
    "only-space": " \t \u2003",
    "empty": "",
    "slash": "either/or",
    "climb": "../../../etc/passwd",
    "drive": "C:\\Windows\\win.ini",
    "device": "CON",
    "device-suffix": "nul.gpx",
    "dots": "..",
    "leading-dash": "-rf",
    "trailing-dot": "end. ",
    "latin": "Zürich Ærø Łódź Þórshöfn",
    "chinese": "\u6a5f\u5834",
}
"""By what is awkward about them."""

FILE_NAMES: tuple[str, ...] = (
    *NAMES.values(),
    *("con.txt", "COM1", "com\u00b9.a.b", "LPT9 ", "AUX.", "CONOUT$", "PRN .x"),
    *(".hidden", "...", " . . ", "a/b\\c", "a:b", "a<b>c", "what?", "st*r", "pi|pe"),
    *("\u00fc" * 90, "x" * 1000, "-", "--", "~", "$(reboot)", "`reboot`", "a\u0308" * 60),
)
"""Texts that somebody could type for a file name, or that a point's name could make of it."""

FILES: dict[str, bytes] = {
    "empty": b"",
    "one-byte": b"\x00",
    "byte-order-mark": b"\xef\xbb\xbf",
    "utf-16": "name,latitude,longitude\nA,1,2\n".encode("utf-16"),
    "not-utf-8": b"name,latitude,longitude\nZ\xfcrich,47,8\n",
    "nulls": b"\x00" * 4096,
    "no-line-end": b"name,latitude,longitude\nA,1,2",
    "unclosed-quote": b'name,latitude,longitude\n"A,1,2\n',
    "cut-xml": b'<?xml version="1.0"?><gpx version="1.1"><rte><rtept lat="1" lon="2">',
    "doctype": b'<?xml version="1.0"?><!DOCTYPE g [<!ENTITY a "b">]><g>&a;</g>',
    "deep-json": b"[" * 100_000,
    "cut-json": b'{"type": "FeatureCollection", "features": [',
    "binary": bytes(range(256)) * 8,
}
"""By what is wrong with them: files nobody should be able to crash a reader with."""
