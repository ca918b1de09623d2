"""Resin and microspheres: how much of each for a density and a volume, and whether the mix still pours."""

from dataclasses import dataclass

from gudgeon.answers.finding import Finding, worst_first
from gudgeon.answers.known import Known, Narrowing, Numbers, estimate, narrowing
from gudgeon.answers.saying import grams, note, watch, wrong
from gudgeon.answers.waters import degrees_68_to_39_fahrenheit, warmth_per_100_cm3
from gudgeon.errors import Fault, Refusal
from gudgeon.physics.immersion import light_share
from gudgeon.physics.spread import Estimate
from gudgeon.units import Measure, Reading

HEAP = 0.62  # share of a loose scoop of bubbles that is bubbles; random loose packing of spheres, 0.56 to 0.64
POURS_TO = 0.45  # share by volume from which the mix is a thick cream; common practice, no source
PASTE_FROM = 0.55  # share from which it will not run at all; common practice, no source
RESIN_SHARE = 0.02  # half-width of a resin's density from its tin
BUBBLE_SHARE = 0.15  # half-width of the bubbles' true density from their label
_RESIN, _BUBBLES = "resin density", "bubble density"


@dataclass(frozen=True)
class Mix:
    """Resin and bubbles; masses [kg].

    per_resin : [1] bubbles by weight over mixed resin
    share     : of the volume that is bubbles
    scoops    : loose scoops of bubbles to one of liquid
    resin, bubbles, total : for the volume asked, waste in; None without one
    """

    wanted: float
    per_resin: Estimate
    share: Estimate
    scoops: float
    resin: Estimate | None
    bubbles: Estimate | None
    total: float | None
    narrowing: Narrowing | None
    warnings: tuple[Finding, ...]


def resin_mix(
    resin: Reading, bubbles: Reading, wanted: float, *, volume: float | None = None, waste: float = 0.0
) -> Mix:
    """How much bubbles for a density.

    resin, bubbles : [kg/m3] cured resin, and the true density of one bubble, not of a scoop
    wanted         : [kg/m3]     volume : [m3] of the mould     waste : share more to mix
    raises         : Refusal when no mix of the two has that density
    """
    _check(resin.value, bubbles.value, wanted)
    knowns = (
        Known(_RESIN, resin.value, resin.spread_or(RESIN_SHARE * resin.value), "cast and weigh a cube of plain resin",
              0.005 * resin.value),
        Known(_BUBBLES, bubbles.value, bubbles.spread_or(BUBBLE_SHARE * bubbles.value),
              "mix a small cup, cast a cube, weigh and measure it", 0.03 * bubbles.value),
    )  # fmt: skip

    def share(n: Numbers) -> float:
        return light_share(n[_RESIN], n[_BUBBLES], wanted)

    def per_resin(n: Numbers) -> float:
        return share(n) * n[_BUBBLES] / ((1.0 - share(n)) * n[_RESIN])

    part = estimate(share, knowns)
    total = None if volume is None else volume * (1.0 + waste) * wanted
    return Mix(
        wanted=wanted, per_resin=estimate(per_resin, knowns), share=part, scoops=part.value / HEAP / (1.0 - part.value),
        resin=None if total is None else estimate(lambda n: total / (1.0 + per_resin(n)), knowns),
        bubbles=None if total is None else estimate(lambda n: total - total / (1.0 + per_resin(n)), knowns),
        total=total, narrowing=narrowing(per_resin, knowns), warnings=_warnings(part.value, wanted, volume),
    )  # fmt: skip


def _check(resin: float, bubbles: float, wanted: float) -> None:
    faults = []
    if bubbles >= resin:
        faults.append(Fault("--bubbles", "bubbles must be lighter than the resin; give the density of one bubble"))
    elif not bubbles < wanted <= resin:
        faults.append(Fault("--density", f"{wanted / 1000:.2f} g/cm3 is not between bubbles and resin, "
                                         f"{bubbles / 1000:.2f} to {resin / 1000:.2f} g/cm3"))  # fmt: skip
    elif light_share(resin, bubbles, wanted) > HEAP + 0.02:
        lightest = resin - (HEAP + 0.02) * (resin - bubbles)
        faults.append(Fault("--density", f"bubbles do not pack that close: the lightest this pair gives is about "
                                         f"{lightest / 1000:.2f} g/cm3"))  # fmt: skip
    if faults:
        raise Refusal("no such mix", faults)


def _warnings(share: float, wanted: float, volume: float | None) -> tuple[Finding, ...]:
    found: list[Finding] = []
    if share >= PASTE_FROM:
        found.append(wrong("a paste: it will not run through a sprue; trowel it into an open mould"))
    elif share >= POURS_TO:
        found.append(watch("close to the pourable limit: like thick cream, for an open mould and a wide sprue"))
    lift = _cold_lift(volume or 1e-4)
    size = "the body" if volume else "100 cm3"
    warm, cold = (water.temperature.value for water in degrees_68_to_39_fahrenheit())
    found.append(note("cold water lifts a resin body less than a wooden one: from {warm} to {cold} "
                      f"{size} loses {grams(lift)} of lift where wood gains a little; retune a suspender",
                      warm=(warm, Measure.TEMPERATURE), cold=(cold, Measure.TEMPERATURE)))  # fmt: skip
    if wanted < 500.0:
        found.append(watch("below about 0.5 g/cm3 cured bubbles and resin crumble at the edges"))
    return worst_first(found)


def _cold_lift(volume: float) -> float:
    return warmth_per_100_cm3(*degrees_68_to_39_fahrenheit()).resin * volume / 1e-4
