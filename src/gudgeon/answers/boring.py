"""Which hole for how much ballast: grams per millimetre of bore, and the depth, bit by bit; balls by weight."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from gudgeon.answers.bench_lure import Stuff
from gudgeon.answers.finding import Finding
from gudgeon.answers.known import Known, estimate
from gudgeon.answers.saying import watch
from gudgeon.design.model import Uncertainty
from gudgeon.errors import Fault, Refusal
from gudgeon.library.drills import Drill, drill_named
from gudgeon.library.metals import sphere_mass
from gudgeon.physics.immersion import mass_per_depth, sphere_diameter
from gudgeon.physics.spread import Estimate
from gudgeon.units import INCH, Reading

BALLAST_BITS_INCH = ("3/16 in", "1/4 in", "5/16 in", "3/8 in", "7/16 in", "1/2 in", "5/8 in")
BALLAST_BITS_METRIC = ("5 mm", "6 mm", "8 mm", "10 mm", "12 mm", "13 mm", "16 mm")
BORE_SPREAD = INCH / 256  # half-width of a drilled hole's diameter
BALL_SPREAD = 5e-5  # m, half-width of a shot's diameter from its label
EASE = 1e-4  # m a bore is at least wider than a ball that is to drop in; common practice, no source
SOFT = ("lead", "bismuth", "tin", "pewter")  # hammered or melted into a bore at the bench; common practice, no source
LONGEST_BORE = 12.0  # times its width: deeper ones wander; common practice, no source


@dataclass(frozen=True)
class Bore:
    """One bit: what a metre of it holds [kg/m], and the depth [m] in each hole."""

    bit: str
    diameter: float
    per_depth: float
    depth: Estimate


@dataclass(frozen=True)
class Bores:
    """The depth of a bore for a ballast, for one bit or for those that suit.

    mass : [kg]     ball : [m] diameter of a ball of that mass     filled : share of the bore that is metal
    whole : a round shot that drops in as it is: its bore is as deep as it is wide, and the depths of `bores` are those
        that it fills once hammered or melted; none for a metal too hard for both
    """

    material: str
    mass: float
    holes: int
    filled: float
    ball: float
    bores: tuple[Bore, ...]
    warnings: tuple[Finding, ...]
    whole: tuple[str, ...] = ()


def ball_bores(width: Reading, material: Stuff, bits: Sequence[str] | None, usual: Sequence[str]) -> Bores:
    """The bits a round shot drops into, and for a soft metal how deep a bore it fills.

    width  : [m]     bits : as asked for; None for those of `usual` that are wide enough
    raises : Refusal when it goes into none, or not into one that is asked for; OutsideSource as `bores`
    """
    wide = tuple(name for name in bits or usual if drill_named(name).diameter >= width.value + EASE)
    narrow = [name for name in bits or () if name not in wide]
    if narrow or not wide:
        tight = narrow or [f"none of {', '.join(usual)}"]
        words = f"a ball of {1e3 * width.value:.2f} mm wants a wider bit"
        raise Refusal("the ball does not go in", [Fault("--bit", f"{name}: {words}") for name in tight])
    mass = ball_mass(width, material)
    found = bores(mass, material, wide)
    soft = any(name in material.name for name in SOFT)
    return replace(found, ball=width.value, whole=tuple(bore.bit for bore in found.bores),
                   bores=found.bores if soft else (), warnings=found.warnings if soft else ())  # fmt: skip


def bores(mass: Reading, material: Stuff, bits: Sequence[str], *, holes: int = 1, filled: float = 1.0) -> Bores:
    """How deep to drill for a ballast, bit by bit.

    mass   : [kg] in all     holes : it is parted into     filled : 1 for a solid slug, about 0.6 for loose shot
    raises : Refusal for a share that is no share; OutsideSource for a drill there is not
    """
    faults = []
    if not 0.0 < filled <= 1.0:
        faults.append(Fault("--filled", "the share of the bore that is metal is more than 0 and at most 100 %"))
    if mass.value <= 0.0:
        faults.append(Fault("--lead", "a ballast weighs more than 0 g"))
    if faults:
        raise Refusal("no bore for that", faults)
    found = tuple(_bore(drill_named(bit), mass, material, holes, filled) for bit in bits)
    return Bores(material.name, mass.value, holes, filled, sphere_diameter(mass.value, material.density), found,
                 _warnings(found))  # fmt: skip


def mass_in_bore(bit: str, material: Stuff, filled: float = 1.0) -> tuple[str, float]:
    """A bit's name, and what a metre of its bore holds [kg/m]; raises OutsideSource, BadQuantity."""
    drill = drill_named(bit)
    return drill.name, filled * mass_per_depth(drill.diameter, material.density)


def ball_mass(diameter: Reading, material: Stuff) -> Reading:
    """What one round shot weighs [kg]; diameter : [m]."""
    mass = sphere_mass(diameter.value, material.density)
    return Reading(mass, 3.0 * mass * diameter.spread_or(BALL_SPREAD) / diameter.value)


def check_bit(name: str) -> None:
    """Nothing, when there is such a bit; raises OutsideSource, BadQuantity."""
    drill_named(name)


def _bore(drill: Drill, mass: Reading, material: Stuff, holes: int, filled: float) -> Bore:
    knowns = (Known("ballast", mass.value, mass.spread_or(Uncertainty().scale)),
              Known("bore", drill.diameter, BORE_SPREAD))  # fmt: skip
    depth = estimate(lambda n: n["ballast"] / holes / (filled * mass_per_depth(n["bore"], material.density)), knowns)
    return Bore(drill.name, drill.diameter, filled * mass_per_depth(drill.diameter, material.density), depth)


def _warnings(found: Sequence[Bore]) -> tuple[Finding, ...]:
    deep = [bore.bit for bore in found if bore.depth.value > LONGEST_BORE * bore.diameter]
    if not deep:
        return ()
    return (watch(f"{', '.join(deep)}: deeper than {LONGEST_BORE:.0f} times the bit's width, where a bit wanders; take "
                  "a wider one or more holes"),)  # fmt: skip
