"""What an entry of the table of keys is made of: kinds, bounds, and all that is said of a key."""

from typing import Annotated, NamedTuple

from plotter.earth.atmosphere import COLDEST_C, HOTTEST_C
from plotter.flight.checks import FASTEST_KT, HIGHEST_ALTITUDE_FT, SLOWEST_KT
from plotter.flight.wind import STRONGEST_KT
from plotter.route.plotting import LOWEST_ALTITUDE_FT

FORMAT = 1
"""The format this program writes; it reads this one and every one before it."""
MOST_LEGS = 10_000


class Bounds(NamedTuple):
    """What a number may be; ``None`` is no bound."""

    gt: float | None = None
    ge: float | None = None
    le: float | None = None


class Key(NamedTuple):
    """All that is known of a key but its name, its kind and its bounds.

    ``label``, ``help`` and ``unit`` are what the page and the reference say, ``unit`` where the
    name does not tell it. ``example`` is for a kind that does not show how it is written.

    A required key has the example of ``needed``, and ``instead`` the keys that replace it. It may
    not stand beside those of ``not_with``, and not without that of ``asks``; a number is at most
    that of the key ``at_most``. ``says`` is the catalogue's own sentence for a missing key.

    On the page it stands in ``form``, in the order of the table unless ``order`` says otherwise,
    as a field of ``kind``, called ``field`` where several keys share it, with what holds when it is left empty: ``usual``, said as ``blank``.

    The plan to start from has it as ``start`` (a tuple is one for each row), or as a comment that
    offers it, ``offer``, with a ``note`` behind and the lines ``above``. ``invented`` is what it is
    called until it is confirmed, together with all keys that begin with ``part``; ``may_go``: a
    log can be made without it.
    """

    label: str
    help: str
    example: object = None
    unit: str = ""
    field: str = ""
    needed: str | None = None
    instead: tuple[str, ...] = ()
    says: str = ""
    not_with: tuple[str, ...] = ()
    asks: str = ""
    at_most: str = ""
    form: str = ""
    order: int = 0
    kind: str = ""
    usual: str | bool | None = None
    blank: str = ""
    invented: str = ""
    part: str = ""
    may_go: bool = False
    start: str | tuple[str | None, ...] = ""
    offer: str = ""
    note: str = ""
    above: str = ""


class OneOrMore(NamedTuple):
    """A list that may be written as its one value; in a list at least ``least``."""

    bare: bool
    least: int = 1


NOT_BLANK = r"\S"
Text = Annotated[str, NOT_BLANK]
AboveZero = Annotated[float, Bounds(gt=0.0)]
NotNegative = Annotated[float, Bounds(ge=0.0)]
Degrees = Annotated[float, Bounds(ge=0.0, le=360.0)]
WindSpeed = Annotated[float, Bounds(ge=0.0, le=STRONGEST_KT)]
Celsius = Annotated[float, Bounds(ge=COLDEST_C, le=HOTTEST_C)]
Knots = Annotated[float, Bounds(ge=SLOWEST_KT, le=FASTEST_KT)]
Inches = Annotated[float, Bounds(ge=25.7, le=32.0)]  # in hectopascals 870 to 1,084
AltitudeFt = Annotated[float, Bounds(ge=LOWEST_ALTITUDE_FT, le=HIGHEST_ALTITUDE_FT)]
Altitudes = Annotated[list[AltitudeFt], OneOrMore(bare=True)]
Longitude = Annotated[float, Bounds(ge=-180.0, le=180.0)]
Variation = Annotated[float, Bounds(ge=-180.0, le=180.0)]
LegNumber = Annotated[int, Bounds(ge=1, le=MOST_LEGS)]
Format = Annotated[int, Bounds(ge=1, le=FORMAT)]
Names = list[Text]
Stations = Annotated[list[Text], OneOrMore(bare=False)]
