"""A design to start from: a commented file of one of several body forms, at the length asked for."""

import math
import re
import tomllib
from dataclasses import dataclass
from difflib import get_close_matches
from importlib.resources import files
from typing import Literal

from gudgeon.answers.hook_reach import HABIT_SPARE
from gudgeon.errors import BadDesign, Fault
from gudgeon.library.hooks import hook_size, hook_sizes
from gudgeon.library.metals import material
from gudgeon.units import INCH, inch_fraction

Shop = Literal["mm", "in"]
FORMS = ("swimmer4", "swimmer3", "glider2", "diver", "walker", "needle")
SHORTEST, LONGEST = 0.85, 1.75  # of a form's own length; beyond these its hardware, coats and bores no longer fit it
_COMMENT_COLUMN = 34

# Wire of eyes by body length, up to and with, as sold in millimetres and in inches: common practice, no source.
_WIRES = ((0.1143, 1.2, ".047"), (0.1397, 1.4, ".055"), (0.1778, 1.6, ".063"), (0.3048, 1.8, ".072"),
          (math.inf, 2.0, ".080"))  # fmt: skip
_LOOP = 4.0 * math.pi  # wires of length in a loop five wires wide, along its middle


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
    length  : [m] of the body; the form's own when left out. Lengths grow with it; hooks and wire step up by size,
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


def _grams(mass: float) -> str:
    return f"{float(f'{mass:.2g}'):g} g"


@dataclass(frozen=True)
class _Filling:
    """What stands in a template's angle brackets, at one length.

    <12>  a length [mm] that grows with the body     <=2>  one that does not     <~12>  a bore, to the nearest bit
    <*0.7> grams that grow with its cube             <wire>  of its eyes, by its length
    <hook 90>  the largest treble of which two clear each other where they come as near as this, which grows
    <water 15> a temperature [C], in F where lengths are in inches
    <eye 15>   grams of an eye of that wire with a shank of this, which grows
    """

    own: float
    length: float
    units: Shop
    first_hook: str

    def __call__(self, words: str) -> str:
        ratio = self.length / self.own
        what, _, told = words.rpartition(" ")
        if words == "first hook":
            return self.first_hook
        if words == "wire":
            return f"{self.wire()[0]:g} mm" if self.units == "mm" else f"{self.wire()[1]} in"
        if what == "water":
            return f"{told} C" if self.units == "mm" else f"{round(1.8 * float(told) + 32.0)} F"
        if what == "hook":
            return self.hook(ratio * float(told) / 1000.0)
        if what == "eye":
            return self.eye(ratio * float(told) / 1000.0)
        number = float(words.lstrip("=~*"))
        if words.startswith("="):
            return self.fixed(number)
        if words.startswith("~"):
            return self.bore(ratio * number)
        if words.startswith("*"):
            return _grams(ratio**3 * number)
        return self.ruler(ratio * number)

    def hook(self, apart: float) -> str:
        """The largest treble of which two, rings and shanks end to end, and a little, go into a distance [m]."""
        sizes = [hook_size(size) for size in hook_sizes()]
        fitting = [size.size for size in sizes if 2.0 * (size.shank + size.ring) + HABIT_SPARE <= apart]
        return fitting[-1] if fitting else sizes[0].size

    def wire(self) -> tuple[float, str]:
        """Diameter of the eyes' wire [mm], and in inches as it is sold."""
        return next((metric, inches) for longest, metric, inches in _WIRES if self.length <= longest + 1e-6)

    def eye(self, shank: float) -> str:
        """Grams of a stainless eye with a shank [m] in the wood."""
        diameter = self.wire()[0] / 1000.0
        volume = 0.25 * math.pi * diameter**2 * (shank + _LOOP * diameter)
        return _grams(1000.0 * material("stainless steel").density * volume)

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
