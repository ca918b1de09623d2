"""A design to start from: a commented file of one of several body forms, at the length asked for."""

import math
import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass
from difflib import get_close_matches
from importlib.resources import files
from typing import Literal

from gudgeon.errors import BadDesign, Fault
from gudgeon.units import INCH, inch_fraction

Shop = Literal["mm", "in"]
FORMS = ("swimmer4", "swimmer3", "glider2", "diver", "walker", "needle")
SHORTEST, LONGEST = 0.85, 1.75  # of a form's own length; beyond these its hooks, coats and bores no longer fit it
_COMMENT_COLUMN = 34

# Treble by body length, up to and with: common practice, no source. Beyond the last, the last.
_HOOKS = ((0.0635, "8"), (0.0889, "6"), (0.1143, "4"), (0.1397, "2"), (0.1778, "1/0"), (0.2286, "2/0"), (0.3048, "4/0"),
          (math.inf, "5/0"))  # fmt: skip
_SIZES = ("10", "8", "6", "4", "2", "1", "1/0", "2/0", "3/0", "4/0", "5/0")
# Screw eye by body length: grams of a stainless wire of the usual gauge, bent and cut to the usual length; ours.
_EYES = ((0.0635, 0.2), (0.0889, 0.3), (0.1143, 0.4), (0.1397, 0.5), (0.1778, 0.8), (0.2286, 0.9), (0.3048, 1.1),
         (math.inf, 1.6))  # fmt: skip


@dataclass(frozen=True)
class Form:
    """A body form to start from.

    name   : what to ask for it by
    words  : what it is
    length : [m] the length it was drawn for
    """

    name: str
    words: str
    length: float


def forms() -> tuple[Form, ...]:
    """The body forms there are."""
    return tuple(_form(name, _template(name)) for name in FORMS)


def starting_design(form: str, length: float | None = None, units: Shop = "mm") -> str:
    """The text of a design file to start from.

    form    : name of a form
    length  : [m] of the body; the form's own when left out. Lengths grow with it; hooks and eyes step up by size,
              bits go to the nearest, coats and gaps stay.
    units   : what lengths are written in; inches go to the nearest mark on a ruler
    returns : TOML, commented
    raises  : BadDesign when there is no such form, or the length is far from what it was drawn for
    """
    if form not in FORMS:
        close = get_close_matches(form.lower(), FORMS, n=2, cutoff=0.4)
        offer = f"nearest: {' or '.join(close)}" if close else f"there are {', '.join(FORMS)}"
        raise BadDesign("there is nothing to start from", [Fault("form", f"no form is called '{form[:40]}'; {offer}")])
    template = _template(form)
    own = _form(form, template).length
    if length is not None and not SHORTEST - 1e-3 <= length / own <= LONGEST + 1e-3:
        given, least, most = (_plainly(size, units) for size in (length, SHORTEST * own, LONGEST * own))
        words = f"{given} is no length for this form; it can be {least} to {most} long"
        raise BadDesign("there is nothing to start from", [Fault("length", words)])
    fill = _Filling(own, own if length is None else length, units, _first_hook(template))
    whole = template + (files("gudgeon.answers") / "forms" / "finish-and-water.toml").read_text(encoding="utf-8")
    return "".join(_aligned(re.sub(r"<([^<>]+)>", lambda found: fill(found[1]), line)) for line in whole.splitlines())


def _plainly(length: float, units: Shop) -> str:
    return f"{1000 * length:.0f} mm" if units == "mm" else f"{inch_fraction(length, 16)} in"


def _template(name: str) -> str:
    return (files("gudgeon.answers") / "forms" / f"{name}.toml").read_text(encoding="utf-8")


def _form(name: str, template: str) -> Form:
    data = tomllib.loads(template)
    words = template.splitlines()[0].removeprefix("# ").rstrip(".")
    return Form(name, words, float(data["length"].strip("<>")) / 1000.0)


def _first_hook(template: str) -> str:
    return str(tomllib.loads(template)["hook"][0]["name"])


def _aligned(line: str) -> str:
    """A line with its comment, parted from it by a tab in the template, at one column with the others."""
    value, tab, comment = line.partition("\t")
    return f"{value:<{_COMMENT_COLUMN - 2}}  {comment}\n" if tab else f"{value}\n"


@dataclass(frozen=True)
class _Filling:
    """What stands in a template's angle brackets, at one length.

    <12>  a length [mm] that grows with the body     <=2>  one that does not     <~12>  a bore, to the nearest bit
    <*0.7> grams that grow with its cube             <hook>, <eye>  by body length
    """

    own: float
    length: float
    units: Shop
    first_hook: str

    def __call__(self, words: str) -> str:
        ratio = self.length / self.own
        named: dict[str, Callable[[], str]] = {
            "hook": lambda: self.hook(0),
            "hook of three": lambda: self.hook(-1),
            "small hook": lambda: self.hook(-1),
            "eye": lambda: f"{self.eye():g} g",
            "two eyes": lambda: f"{2 * self.eye():g} g",
            "first hook": lambda: self.first_hook,
        }
        if words in named:
            return named[words]()
        number = float(words.lstrip("=~*"))
        if words.startswith("="):
            return self.fixed(number)
        if words.startswith("~"):
            return self.bore(ratio * number)
        if words.startswith("*"):
            return f"{float(f'{ratio**3 * number:.2g}'):g} g"
        return self.ruler(ratio * number)

    def hook(self, steps: int) -> str:
        size = next(size for longest, size in _HOOKS if self.length <= longest + 1e-6)
        return _SIZES[_SIZES.index(size) + steps]

    def eye(self) -> float:
        return next(grams for longest, grams in _EYES if self.length <= longest + 1e-6)

    def ruler(self, millimetres: float) -> str:
        """A length as a ruler shows it: to 0.1 mm, or to a mark that is fine enough for it."""
        if self.units == "mm":
            return f"{round(millimetres, 1) + 0.0:g} mm"
        denominator = 16 if abs(millimetres) >= 50.0 else 32 if abs(millimetres) >= 12.0 else 64
        return f"{inch_fraction(millimetres / 1000.0, denominator)} in"

    def fixed(self, millimetres: float) -> str:
        if self.units == "mm":
            return f"{millimetres:g} mm"
        if millimetres < 0.5:
            return f"{round(millimetres / 25.4, 4):g} in"
        return f"{inch_fraction(millimetres / 1000.0, 64)} in"

    def bore(self, millimetres: float) -> str:
        """The nearest whole millimetre, or sixteenth, and no bit below 3 mm or 1/8 in."""
        if self.units == "mm":
            return f"{max(3, round(millimetres))} mm"
        sixteenths = max(2, round(millimetres / 1000.0 / INCH * 16))
        return f"{inch_fraction(sixteenths / 16 * INCH, 16)} in"
