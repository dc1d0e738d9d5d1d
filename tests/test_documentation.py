"""What the documents say is true: examples run, commands and links exist."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from plotter import wording
from plotter.cli.main import COMMANDS, plotter

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
DOCUMENTS = [
    "README.md",
    "DEVELOPERS.md",
    "CHANGELOG.md",
    "NOTICES.md",
    "data/README.md",
    "data/GUIDE.md",
    "exports/README.md",
    "plotter/chart/README.md",
]


def blocks(language: str) -> list[str]:
    return re.findall(rf"```{language}\n(.*?)```", README, re.S)


@pytest.mark.parametrize("code", blocks("python"))
def test_python_examples_run(code: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    names: dict[str, object] = {}
    exec(compile(code, "README.md", "exec"), names)
    assert names["files"]


@pytest.mark.parametrize("block", blocks("console"))
def test_printed_examples_are_what_is_printed(block: str, tmp_path: Path) -> None:
    command, _, wanted = block.partition("\n")
    arguments = command.removeprefix("$ plotter ").split()
    done = CliRunner().invoke(plotter, arguments)
    assert done.exit_code == 0, done.output
    assert done.stdout.strip() == wanted.strip()


def test_the_printed_log_is_that_of_the_sample() -> None:
    (block,) = (text for text in blocks("text") if "TO GO" in text)
    done = CliRunner().invoke(plotter, ["log", str(ROOT / "exports" / "sample" / "flight.toml")])
    printed = done.stdout.splitlines()
    assert all(line in printed for line in block.splitlines())


def test_the_job_opens_the_readme_and_the_cautions_come_early() -> None:
    job, caution = README.index("cross-country"), README.index("planning aid")
    assert job < 400
    assert caution < README.index("## Two commands")
    assert "Not checked: airspace" in README


def test_every_command_is_in_the_readme_and_has_an_example() -> None:
    for name in COMMANDS:
        assert f"`plotter {name}" in README
        text = CliRunner().invoke(plotter, [name, "--help"]).output
        assert "Example" in text
        assert f"plotter {name}" in text.partition("Example")[2]


def test_every_option_of_plot_is_explained() -> None:
    text = CliRunner().invoke(plotter, ["plot", "--help"]).output
    for option in (
        "--every",
        "--restart",
        "--clear-of-turns",
        "--date",
        "--altitude",
        "--line",
        "--points",
        "--sm",
        "--as",
        "--into",
        "--name",
        "--replace",
        "--json",
    ):
        line = next(line for line in text.splitlines() if line.strip().startswith(option))
        assert len(line.split()) > 2, option


def test_help_opens_with_the_cautions() -> None:
    text = " ".join(CliRunner().invoke(plotter, ["--help"]).output.split())
    for words in wording.STANDING:
        assert words in text


@pytest.mark.parametrize("name", DOCUMENTS)
def test_links_lead_somewhere(name: str) -> None:
    path = ROOT / name
    text = path.read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)#]+)[^)]*\)", text):
        if not target.startswith("https://"):
            assert (path.parent / target).exists(), f"{name} links to {target}"


@pytest.mark.parametrize("name", DOCUMENTS)
def test_documents_speak_of_the_project_alone(name: str) -> None:
    text = (ROOT / name).read_text(encoding="utf-8")
    assert not re.search(r"/(tmp|home|root|work)/", text)
