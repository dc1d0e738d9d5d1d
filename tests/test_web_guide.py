"""The guide as the planning page serves it: every document, every link, no script."""

from __future__ import annotations

import re
from html.parser import HTMLParser
from urllib.parse import urldefrag, urljoin

import pytest
from served import Served

from plotter import wording
from plotter.web.guide import REGISTER, documents, guide_page

PAGES = sorted(documents())


class Elements(HTMLParser):
    """Tags, ids, and what links and pictures lead to."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.ids: list[str] = []
        self.targets: list[str] = []
        self.attributes: set[str] = set()
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self.tags.add(tag)
        self.attributes |= given.keys()
        self.ids += [given["id"]] if "id" in given else []
        self.targets += [given[name] for name in ("href", "src") if name in given]


@pytest.mark.parametrize("address", PAGES)
def test_a_document_is_a_page_without_script_or_inline_style(address: str) -> None:
    text = guide_page(address)
    assert text is not None
    found = Elements(text)
    assert {"main", "h1", "nav", "footer"} <= found.tags
    assert not {"script", "style", "iframe", "img"} & found.tags
    assert not {name for name in found.attributes if name.startswith("on") or name == "style"}
    assert len(found.ids) == len(set(found.ids))
    for words in wording.STANDING:
        assert words in text.replace("&#x27;", "'")


@pytest.mark.parametrize("address", PAGES)
def test_every_link_of_a_page_is_answered_by_the_page(address: str, page: Served) -> None:
    text = guide_page(address) or ""
    for target in Elements(text).targets:
        if target.startswith(("https://", "data:")):
            continue
        where, anchor = urldefrag(urljoin(f"{page.url}{address}", target))
        answer = page.client.get(where)
        assert answer.status_code == 200, target
        if anchor and answer.headers["content-type"].startswith("text/html"):
            assert anchor in Elements(answer.text).ids, target


def test_what_the_guide_answers_is_guarded(page: Served) -> None:
    answer = page.get("/guide/")
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    assert "default-src 'none'" in answer.headers["content-security-policy"]
    assert answer.headers["x-content-type-options"] == "nosniff"
    foreign = page.client.get("/guide/", headers={"origin": "https://evil.example"})
    assert foreign.status_code == 403


@pytest.mark.parametrize(
    "address",
    ["/guide/none.md", "/guide/../pyproject.toml", "/guide/%2e%2e/api.py", "/guide//etc/passwd"],
)
def test_an_address_never_leads_to_another_file(page: Served, address: str) -> None:
    assert page.get(address).status_code == 404


def test_html_in_a_document_stays_text() -> None:
    text = guide_page("/guide/reference/commands.md") or ""
    assert "<!--" not in text
    assert re.search(r"<h2 id=\"plotter-plot\">", text)
    assert REGISTER in documents()


def test_the_planning_page_links_to_the_guide(page: Served) -> None:
    assert 'href="/guide/"' in page.get("/").text
