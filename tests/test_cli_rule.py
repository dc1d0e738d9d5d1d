"""`plotter rule` at the command line: sheets, tests, refusals."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from drawn import drawings

from plotter import api, wording
from plotter.cli.main import run

Call = Callable[..., tuple[int, str, str]]
PAIRS = "ruler 50 = plotter 50.6, ruler 100 = plotter 101.3"


@pytest.fixture
def call(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Call:
    monkeypatch.setenv("PLOTTER_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)

    def _call(*arguments: str) -> tuple[int, str, str]:
        code = run(["rule", *arguments])
        out, err = capsys.readouterr()
        return code, out, err

    return _call


def test_the_sheets_are_written(call: Call, tmp_path: Path) -> None:
    code, out, err = call()
    assert (code, err) == (0, "")
    path = tmp_path / "exports" / "rule-a4.pdf"
    assert str(path) in out
    assert len(drawings(path.read_bytes())) == 2
    told = ("100%", "steel rule", "never with the plotter under test")
    for words in (*wording.STANDING_SHORT, *told):
        assert words in " ".join(out.split())


def test_each_paper_has_a_file_of_its_own(call: Call, tmp_path: Path) -> None:
    assert call("--into", "here")[0] == call("--into", "here", "--paper", "LETTER")[0] == 0
    names = sorted(path.name for path in (tmp_path / "here").iterdir())
    assert names == ["rule-a4.pdf", "rule-letter.pdf"]


def test_a_changed_file_is_not_written_over(call: Call, tmp_path: Path) -> None:
    (tmp_path / "mine.pdf").write_bytes(b"notes")
    code, out, err = call("--into", ".", "--name", "mine")
    assert (code, out) == (1, "")
    assert "--replace" in err
    assert (tmp_path / "mine.pdf").read_bytes() == b"notes"
    assert call("--into", ".", "--name", "mine", "--replace")[0] == 0
    assert call("--into", ".", "--name", "mine")[0] == 0, "the same bytes are no conflict"


def test_the_sheets_as_json(call: Call) -> None:
    document = json.loads(call("--json")[1])
    assert document["schema"] == "rule-1"
    assert Path(document["files"]["pdf"]).exists()
    assert document["cautions"] == list(wording.STANDING)


def test_a_test_is_said_and_kept(call: Call, tmp_path: Path) -> None:
    code, out, err = call("--my-plotter", PAIRS)
    assert (code, err) == (0, "")
    kept = tmp_path / "home" / "my-plotter.json"
    said = " ".join(out.split())
    for words in (
        "Offset -0.10 NM ± 0.60",
        "Factor 1.0140 ± 0.0091",
        "reading error of 0.5 mm",
        "0 degrees of freedom",
        "Replace it",
        "370 mm",
        f"Kept in {kept}",
        *wording.STANDING_SHORT,
    ):
        assert words in said, words
    assert api.load_own_plotter() == api.fit_plotter(PAIRS)


def test_a_test_as_json(call: Call, tmp_path: Path) -> None:
    document = json.loads(call("--my-plotter", PAIRS, "--keep", "mine.json", "--json")[1])
    assert document["schema"] == "own-plotter-1"
    assert document["verdict"] == "replace"
    assert document["fitted"]["degrees_of_freedom"] == 0
    assert document["kept"] == str(tmp_path / "mine.json")


def test_one_pair_is_said_to_be_too_few_and_nothing_is_kept(call: Call, tmp_path: Path) -> None:
    code, out, _ = call("--my-plotter", "ruler 50 = plotter 50.6")
    assert code == 0
    assert "cannot part an offset from a factor" in out
    assert "Nothing was kept." in out
    assert not (tmp_path / "home").exists()
    document = json.loads(call("--my-plotter", "50 = 50.6", "--json")[1])
    assert document["fitted"] is None
    assert document["kept"] is None


def test_another_ruler_and_edge(call: Call) -> None:
    arguments = ("--my-plotter", "5 = 5, 40 = 40.1", "--chart", "terminal", "--edge", "SM")
    code, out, _ = call(*arguments, "--reading-error", "0.3")
    assert code == 0
    assert "terminal area chart, 1:250,000, SM edge" in out
    assert "reading error of 0.3 mm" in out


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (("--my-plotter", ""), "no pair given"),
        (("--my-plotter", "50 = 50,6"), "with a point"),
        (("--my-plotter", "50 = 506"), "did you mean 50.6?"),
        (("--my-plotter", "50 = 50", "--reading-error", "soon"), "millimetres"),
        (("--my-plotter", "50 = 50", "--reading-error", "nan"), "millimetres"),
        (("--my-plotter", "50 = 50", "--paper", "a4"), "--paper is for printing"),
        (("--my-plotter", "50 = 50", "--into", "x"), "--into is for printing"),
        (("--keep", "x.json"), "--keep needs --my-plotter"),
        (("--chart", "world"), "--chart needs --my-plotter"),
        (("--paper", "b5"), "letter"),
        (("--name", "a/b"), "use 'a-b'"),
        (("--papr", "a4"), "--paper"),
        (("a4",), "a4"),
    ],
)
def test_what_cannot_be_is_answered_and_nothing_is_left(
    call: Call, tmp_path: Path, arguments: tuple[str, ...], words: str
) -> None:
    code, out, err = call(*arguments)
    assert (code, out) == (2, "")
    assert words in err
    assert "Traceback" not in err
    assert not list(tmp_path.iterdir())


def test_a_second_plotter_does_not_replace_the_first(call: Call) -> None:
    call("--my-plotter", PAIRS)
    code, out, err = call("--my-plotter", "10 = 10, 60 = 60.1")
    assert code == 1
    assert "--keep FILE" in err
    assert "--replace" in err
    assert api.load_own_plotter() == api.fit_plotter(PAIRS)
    # What was read just now is answered all the same, and is said not to be kept.
    fitted = api.fit_plotter("10 = 10, 60 = 60.1")
    assert api.verdict_of(fitted).text in " ".join(out.split())
    assert "Nothing was kept." in out
    code, out, err = call("--my-plotter", "10 = 10, 60 = 60.1", "--json")
    assert (code, json.loads(out)["kept"]) == (1, None)
    assert json.loads(err)["error"]["code"] == "exists"
    assert call("--my-plotter", "10 = 10, 60 = 60.1", "--replace")[0] == 0


def test_every_option_is_explained(call: Call) -> None:
    text = call("--help")[1]
    for words in ("Size of the sheets", "Ruler you read", "Edge you read"):
        assert words in text
    for option in ("--into", "--name", "--my-plotter", "--reading-error", "--keep", "--replace"):
        line = next(line for line in text.splitlines() if line.strip().startswith(option))
        assert len(line.split()) > 2, option


def test_the_same_from_python(tmp_path: Path) -> None:
    path = api.rule(tmp_path, paper="letter")
    assert path.name == "rule-letter.pdf"
    with pytest.raises(api.InputError, match="a4 or letter"):
        api.rule(tmp_path, paper="b5")
    mine = api.fit_plotter([api.Pair(10, 10.1), api.Pair(60, 60.1)], chart="world", edge="sm")
    assert api.verdict_of(mine).code == "again"
    assert api.keep_own_plotter(mine, tmp_path / "mine.json").exists()
    assert api.load_own_plotter(tmp_path / "mine.json") == mine


def test_plotting_does_not_import_what_printing_needs() -> None:
    code = (
        "import sys, plotter.cli.main, plotter.cli.plot, plotter.exports, plotter.api\n"
        "assert not [name for name in sys.modules if name.startswith('reportlab')]"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
