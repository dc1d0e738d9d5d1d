"""Published schemas, taken from test-only packages and never shipped, and a check by them."""

from __future__ import annotations

import os
from functools import cache
from importlib.util import find_spec
from pathlib import Path

import pytest
from lxml import etree

_HOMES = {"gpx.xsd": ("gpx", "gpx.xsd"), "ogckml22.xsd": ("fastkml", "schema/ogckml22.xsd")}


@cache
def schema(name: str) -> etree.XMLSchema:
    """A schema by its file name; where it is missing CI fails and a workbench skips."""
    package, inside = _HOMES[name]
    spec = find_spec(package)
    path = Path(spec.origin).parent / inside if spec and spec.origin else None
    if path is None or not path.exists():
        words = f"{name} is in no installed package: install the test extra"
        pytest.fail(words) if os.environ.get("CI") else pytest.skip(words)
    parser = etree.XMLParser(no_network=True)
    return etree.XMLSchema(etree.parse(path, parser))


def validate(name: str, document: bytes) -> None:
    """Fail with the schema's own words where a document does not keep to it."""
    checked = schema(name)
    assert checked.validate(etree.fromstring(document)), checked.error_log
