"""The versions of the partner libraries are tied down, and by what the documents say."""

from __future__ import annotations

import re
from importlib import metadata

import pytest
import versions
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from packaging.version import Version

PINNED = {
    canonicalize_name(pin.name): pin
    for pin in map(
        Requirement,
        re.findall(r"^[^#\n].*$", versions.CONSTRAINTS.read_text(encoding="utf-8"), re.M),
    )
}


def needed(asked: Requirement, seen: set[str]) -> None:
    """Gather what a requirement brings along on this machine."""
    name = canonicalize_name(asked.name)
    if name in seen:
        return
    seen.add(name)
    for line in metadata.requires(name) or ():
        further = Requirement(line)
        extras = asked.extras or {""}
        if further.marker is None or any(further.marker.evaluate({"extra": x}) for x in extras):
            needed(further, seen)


def test_every_direct_and_indirect_requirement_is_pinned() -> None:
    seen: set[str] = set()
    for line in versions.declared():
        needed(Requirement(line), seen)
    assert len(seen) > 50
    assert sorted(seen - PINNED.keys()) == []


@pytest.mark.parametrize("line", versions.declared())
def test_a_pin_keeps_to_the_bounds_of_its_requirement(line: str) -> None:
    asked = Requirement(line)
    (pin,) = PINNED[canonicalize_name(asked.name)].specifier
    assert pin.operator == "=="
    assert pin.version in asked.specifier
    (bound,) = versions.lowest([line])
    assert Version(bound.partition("==")[2]) in asked.specifier


def test_a_requirement_without_a_lower_bound_is_refused() -> None:
    with pytest.raises(ValueError, match="lower bound"):
        versions.lowest(["click"])


def test_the_pins_are_for_any_machine_and_hold_on_the_lowest_python() -> None:
    text = versions.CONSTRAINTS.read_text(encoding="utf-8")
    assert not re.search(r"https?:|file:| @ |--", text)
    for pin in PINNED.values():
        assert pin.marker is None or pin.marker.evaluate({"python_version": "3.11"})


def test_the_commands_of_the_documents_install_the_pins() -> None:
    documents = ["README.md", "DEVELOPERS.md", ".ci/run"]
    texts = [versions.ROOT / name for name in documents if (versions.ROOT / name).exists()]
    for text in texts:
        installs = re.findall(r"pip install (.*)", text.read_text(encoding="utf-8"))
        assert installs
        assert all(words.startswith("-q -c tests/constraints.txt ") for words in installs)


def test_the_representative_tests_exist() -> None:
    for name in versions.REPRESENTATIVE:
        assert (versions.ROOT / "tests" / f"{name}.py").exists()
