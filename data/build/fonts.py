"""Make the fonts of the printed pages: DejaVu Sans Condensed, cut down to the letters kept.

    pip install fonttools
    python data/build/fonts.py FOLDER        (holding DejaVuSansCondensed.ttf and -Bold.ttf, 2.37)

Debian has the two files in the package fonts-dejavu-extra (2.37). Only scripts that are printed
right letter by letter are kept: Arabic, Hebrew or Devanagari would need joining and reordering, and
the page names such letters instead. The licence inside each font is written beside them.
"""

from __future__ import annotations

import sys
from pathlib import Path

from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont

TARGET = Path(__file__).parent.parent.parent / "plotter" / "paper" / "fonts"
FACES = ("DejaVuSansCondensed", "DejaVuSansCondensed-Bold")
LICENCE_NAME_ID = 13
KEPT = (
    (0x0020, 0x007E),  # Latin
    (0x00A0, 0x024F),  # Latin-1, Extended-A, Extended-B
    (0x02B9, 0x02DD),  # modifier letters: Hawaiian and the like
    (0x0300, 0x036F),  # combining marks
    (0x0370, 0x03FF),  # Greek
    (0x0400, 0x052F),  # Cyrillic
    (0x0531, 0x058A),  # Armenian
    (0x10A0, 0x10FF),  # Georgian
    (0x1E00, 0x1EFF),  # Latin Extended Additional: Vietnamese, Welsh
    (0x1F00, 0x1FFF),  # Greek Extended
    (0x2010, 0x205E),  # punctuation
    (0x2070, 0x209C),  # superscripts and subscripts
    (0x20A0, 0x20BF),  # currency
    (0x2116, 0x2116),  # numero
    (0x2150, 0x215F),  # fractions
    (0x2190, 0x21FF),  # arrows
    (0x2200, 0x22FF),  # mathematics
    (0x25A0, 0x25FF),  # geometric shapes
    (0x2713, 0x2717),  # ticks and crosses
    (0xFB00, 0xFB06),  # ligatures
    (0xFFFD, 0xFFFD),  # replacement character
)


def main(folder: Path) -> None:
    """Cut both faces down and write the licence that stands in them."""
    TARGET.mkdir(parents=True, exist_ok=True)
    for face in FACES:
        font = TTFont(folder / f"{face}.ttf")
        licence = font["name"].getDebugName(LICENCE_NAME_ID)
        _cut(font)
        font.save(TARGET / f"{face}.ttf")
    (TARGET / "LICENSE.txt").write_text(licence.strip() + "\n", encoding="utf-8", newline="\n")


def _cut(font: TTFont) -> None:
    options = Options()
    options.hinting = False
    options.layout_features = []
    options.name_IDs = ["*"]
    options.notdef_outline = True
    options.recalc_timestamp = False
    font.recalcTimestamp = False
    cutter = Subsetter(options)
    cutter.populate(unicodes=[code for first, last in KEPT for code in range(first, last + 1)])
    cutter.subset(font)


if __name__ == "__main__":
    main(Path(sys.argv[1]))
