"""The guide in the browser: the Markdown documents of the package as plain pages without a script.

A document has the same name under ``/guide/`` as in the folder, so that one link works in both.
"""

from __future__ import annotations

import html
import re
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from plotter import wording
from plotter.datastore.tables import tables_folder

if TYPE_CHECKING:
    from markdown_it import MarkdownIt
    from markdown_it.token import Token

GUIDE = Path(__file__).parent.parent / "guide"
START = "README.md"
REGISTER = "/data/README.md"
"""Where the documents' links to the register of the data lead: it is outside their folder."""
_COMMENT = re.compile(r"<!--.*?-->\n?", re.S)
_FRAME = """<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light">
<title>{title}</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="/page/guide.css">
</head>
<body>
<a class="skip" href="#text">Skip to the text</a>
<nav aria-label="Guide"><a href="/guide/">Guide</a> <a href="/">Planning page</a></nav>
<main id="text">
{body}</main>
<footer>{standing}</footer>
</body>
</html>
"""


@cache
def documents() -> Mapping[str, Path]:
    """Return every document by its address, so that no address leads to another file."""
    found = {f"/guide/{path.relative_to(GUIDE).as_posix()}": path for path in GUIDE.rglob("*.md")}
    return {**found, "/guide/": GUIDE / START, REGISTER: tables_folder() / START}


@cache
def guide_page(address: str) -> str | None:
    """Return the document at an address as a page, or nothing where the guide has none."""
    path = documents().get(address)
    if path is None:
        return None
    tokens = _parser().parse(_COMMENT.sub("", path.read_text(encoding="utf-8")))
    title = _finish(tokens)
    body = _parser().renderer.render(tokens, _parser().options, {})
    standing = "".join(f"<p>{html.escape(line)}</p>" for line in wording.STANDING)
    return _FRAME.format(title=html.escape(title), body=body, standing=standing)


@cache
def _parser() -> MarkdownIt:
    """CommonMark with tables. HTML in a document stays text, because none is needed."""
    from markdown_it import MarkdownIt  # when a page is asked for: it would slow every start

    parser = MarkdownIt("commonmark", {"html": False}).enable("table")
    parser.add_render_rule("table_open", _table_open)
    parser.add_render_rule("table_close", _table_close)
    parser.add_render_rule("fence", _fence)
    return parser


def _finish(tokens: Sequence[Token]) -> str:
    """Give headings the ids that links use and cells a class for their side; return the title."""
    titles = []
    for token, following in zip(tokens, [*tokens[1:], None], strict=True):
        if token.type == "heading_open" and following is not None:
            titles.append(re.sub(r"[`*]", "", following.content))
            token.attrSet("id", slug(following.content))
        side = token.attrs.pop("style", None)
        if side == "text-align:right":
            token.attrSet("class", "right")
    return titles[0] if titles else "Guide"


def slug(heading: str) -> str:
    """Return the id of a heading, as code hosts make it, so that links work in both places.

    >>> slug("4. The climb, through `several` winds")
    '4-the-climb-through-several-winds'
    """
    return re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-")


def _table_open(*_: object) -> str:
    return '<div class="scroll" role="region" aria-label="Table" tabindex="0"><table>\n'


def _table_close(*_: object) -> str:
    return "</table></div>\n"


def _fence(_renderer: object, tokens: Sequence[Token], index: int, *_: object) -> str:
    return f'<pre tabindex="0"><code>{html.escape(tokens[index].content)}</code></pre>\n'
