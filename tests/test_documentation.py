"""What the documents say is true: examples run, commands, options and links exist.

``PLOTTER_UPDATE_DOCS=1`` puts what is printed now into the examples.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import click
import pytest
from click.testing import CliRunner
from documents import DOCUMENTS, GUIDE, ROOT, blocks, commands, read, with_what_is_printed

from plotter import wording
from plotter.cli.main import COMMANDS, plotter
from plotter.flight.reserve import DAY_MIN, NIGHT_MIN, ROTORCRAFT_MIN
from plotter.formats import geojson, gpkg_in, incoming, kml_in, xml_in
from plotter.route.parts import SPLIT_AT_DEG
from plotter.web import connections
from plotter.web.guide import slug

README = read("README.md")
KINDS = ("tutorial", "how-to", "reference", "explanation")


def naming(language: str) -> list[str]:
    return [name for name in DOCUMENTS if blocks(read(name), language)]


@pytest.mark.parametrize("name", naming("python"))
def test_python_examples_run(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    for code in blocks(read(name), "python"):
        names: dict[str, object] = {}
        exec(compile(code, name, "exec"), names)
        assert names["files"]


@pytest.mark.parametrize("name", naming("console"))
def test_printed_examples_are_what_is_printed(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    renewed = with_what_is_printed(read(name), tmp_path)
    if os.environ.get("PLOTTER_UPDATE_DOCS") == "1":
        (ROOT / name).write_bytes(renewed.encode("utf-8"))
    assert read(name) == renewed


def test_a_printed_example_that_differs_is_found(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    text = "```console\n$ plotter --version | head -1\nplotter 0.0.0\n```\n"
    assert with_what_is_printed(text, tmp_path) not in (text, "")


@pytest.mark.parametrize("name", naming("sh"))
def test_commands_in_the_documents_exist_with_their_options(name: str) -> None:
    for block in blocks(read(name), "sh"):
        for arguments in commands(block):
            command: click.Command = plotter
            context = click.Context(command)
            rest = list(arguments)
            while isinstance(command, click.Group) and rest:
                found = command.get_command(context, rest[0])
                assert found is not None, arguments
                command, rest = found, rest[1:]
            command.make_parser(click.Context(command)).parse_args(rest)


def test_the_commands_that_the_readme_suggests_run() -> None:
    suggested = re.findall(r"`(\.venv/bin/plotter .*?)`", README)
    assert len(suggested) >= 8
    for line in suggested:
        (arguments,) = commands(line)
        assert arguments[0] in COMMANDS


def test_the_table_of_the_readme_is_what_is_printed() -> None:
    (table,) = blocks(README, "text")
    arguments = next(words for block in blocks(README, "sh") for words in commands(block))
    fixed = [*arguments, "--date", "2026-07-04", "--as", "none"]
    printed = CliRunner().invoke(plotter, fixed).stdout.splitlines()
    assert table.splitlines() == [line for line in printed if line in table.splitlines()]


def test_the_readme_is_short_and_opens_with_job_commands_and_limits() -> None:
    assert len(README.splitlines()) <= 80
    assert len(README.split()) <= 600
    job, commands_at, limits = (
        README.index(words) for words in ("cross-country", "```sh", "Not checked: airspace")
    )
    assert job < 400
    assert job < commands_at < limits < len(README) / 2
    assert README.count("![") == 1


def test_the_page_for_contributors_is_short() -> None:
    assert len(read("DEVELOPERS.md").splitlines()) <= 150


def test_every_path_named_for_contributors_exists() -> None:
    found = re.findall(r"`([\w./]+(?:\.\w+|/))`", read("DEVELOPERS.md"))
    paths = [name for name in found if not name.startswith("_") and "/" in name]
    assert len(paths) > 40
    assert [p for p in paths if not ((ROOT / p).exists() or (ROOT / "plotter" / p).exists())] == []


def test_the_guide_has_four_kinds_and_names_every_document() -> None:
    start = read("plotter/guide/README.md")
    for path in GUIDE.rglob("*.md"):
        name = path.relative_to(GUIDE).as_posix()
        if name != "README.md":
            assert name.partition("/")[0] in KINDS
            assert f"({name})" in start


def test_every_command_is_in_the_guide_and_has_an_example() -> None:
    reference = read("plotter/guide/reference/commands.md")
    for name in COMMANDS:
        assert f"## plotter {name}\n" in reference
        text = CliRunner().invoke(plotter, [name, "--help"]).output
        assert "Example" in text
        assert f"plotter {name}" in text.partition("Example")[2]


def test_every_option_is_explained() -> None:
    rows = re.findall(
        r"^\| `(--.*?)` \| (.*?) \|$", read("plotter/guide/reference/commands.md"), re.M
    )
    assert len(rows) > 80
    assert [option for option, meaning in rows if len(meaning.split()) < 3] == []


def test_help_opens_with_the_cautions_and_names_the_guide() -> None:
    text = " ".join(CliRunner().invoke(plotter, ["--help"]).output.split())
    for words in wording.STANDING:
        assert words in text
    assert "Guide: plotter serve --open" in text


def headings(text: str) -> set[str]:
    return {slug(found) for found in re.findall(r"^#+ (.+)$", text, re.M)}


@pytest.mark.parametrize("name", DOCUMENTS)
def test_links_lead_somewhere(name: str) -> None:
    path = ROOT / name
    text = re.sub(r"`[^`\n]*`", "", path.read_text(encoding="utf-8"))
    for target, anchor in re.findall(r"\]\(([^)#]*)(?:#([^)]*))?\)", text):
        if target.startswith("https://"):
            continue
        there = path.parent / target if target else path
        assert there.exists(), f"{name} links to {target}"
        if anchor:
            assert anchor in headings(there.read_text(encoding="utf-8")), f"{name}: #{anchor}"


@pytest.mark.parametrize("name", DOCUMENTS)
def test_documents_speak_of_the_project_alone(name: str) -> None:
    assert not re.search(r"/(tmp|home|root|work)/", read(name))


def test_limits_in_the_guide_are_those_of_the_readers() -> None:
    text = " ".join(read("plotter/guide/explanation/files.md").split())
    for words in (
        f"{xml_in.MOST_BYTES // 10**6} MB of XML",
        f"{incoming.MOST_TRACK_POINTS:,} track points",
        f"{incoming.MOST_NOTED:,} characters of notes",
        f"{geojson.MOST_BYTES // 10**6} MB of GeoJSON",
        f"{incoming.MOST_BYTES // 10**6} MB of CSV",
        f"{kml_in.MOST_PACKED_BYTES // 10**6} MB of KMZ",
        f"{gpkg_in.MOST_BYTES // 10**6} MB of GeoPackage",
    ):
        assert words in text


def test_figures_in_the_explanations_are_those_of_the_code() -> None:
    figures = " ".join(read("plotter/guide/explanation/figures.md").split())
    assert f"changes by {SPLIT_AT_DEG:g}° or more along it" in figures
    assert f"{DAY_MIN:g} minutes by day and {NIGHT_MIN:g} by night" in figures
    assert f"{ROTORCRAFT_MIN:g} minutes for rotorcraft" in figures
    page = " ".join(read("plotter/guide/explanation/page.md").split())
    assert f"within {connections.HEAD_S:g} seconds. At most {connections.MOST} " in page


def test_how_often_measure_is_right_is_what_was_counted() -> None:
    counted = re.findall(
        r"mistake that can be told apart: ranked first \| [\d,]+ \| ([\d.]+ %)",
        read("plotter/guide/explanation/measuring.md"),
    )
    said = " ".join(read("CHANGELOG.md").split())
    assert f"{counted[0]} of distances and {counted[1]} of courses" in said


def test_the_changelog_of_a_first_release_fits_on_a_page() -> None:
    """It says what there is; a merge that brings an earlier list back is found here."""
    assert len(read("CHANGELOG.md").splitlines()) <= 100
