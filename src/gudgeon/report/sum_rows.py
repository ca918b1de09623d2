"""Rows of what a lure needs and comes to, from a scale and a jug."""

from gudgeon.answers.sums import Lead, Sum
from gudgeon.physics.spread import Estimate
from gudgeon.report.laying import Laid, laid, narrow_rows, plain, rate_rows, rate_words
from gudgeon.report.rows import Row, Shop, row, spoken, words_row
from gudgeon.units import Measure

HEAVY = "heavy in water by (minus: light)"
LEAD_CAUTION = ("keep lead from mouth and children, wash after it, melt it only in the open with dry moulds; many "
                "places restrict lead tackle: check your local law")  # fmt: skip


def caution_rows(prefix: str, material: str) -> tuple[Row, ...]:
    """What to mind with a ballast metal; nothing for those that are no trouble."""
    return (words_row(f"{prefix}.caution", "caution", LEAD_CAUTION),) if "lead" in material else ()


def lead_laid(answer: Lead, shop: Shop) -> Laid:
    """The ballast for an aim, laid out."""
    rows = (
        row("lead.inside", f"{answer.material} inside, in a bore of its size", answer.inside, Measure.MASS, shop),
        row("lead.outside", "the same taped on outside", answer.outside, Measure.MASS, shop),
        *_shot_rows(answer, shop),
        row("lead.total", "finished weight", answer.total, Measure.MASS, shop),
        row("lead.cast", "casting weight", answer.total, Measure.CASTING_MASS, shop),
        row("lead.displaced", "water it displaces", answer.displaced, Measure.MASS, shop),
        row("lead.excess", HEAVY, answer.excess, Measure.MASS, shop),
        *rate_rows("lead", answer.rate, shop),
        row("lead.other.excess", f"heavy in {answer.other.words} by", answer.other.excess, Measure.MASS, shop),
        row("lead.last_hole", "leave for the last hole", answer.last_hole, Measure.MASS, shop),
        row("lead.parts", "blank and parts add to", answer.on_scale, Measure.MASS, shop),
        row("lead.bare", "water the bare blank displaces", answer.bare, Measure.MASS, shop),
        row("lead.plain", "on paper, bare water less parts", answer.plain, Measure.MASS, shop),
        *_more_rows(answer, shop),
        row("lead.volume", "volume of the blank", answer.volume, Measure.VOLUME, shop),
        row("lead.wood", "wood density", answer.wood, Measure.DENSITY, shop),
        *narrow_rows("lead", answer.narrowing, Measure.MASS, shop),
        *caution_rows("lead", answer.material),
    )  # fmt: skip
    return laid(_lead_headline(answer, shop), rows, answer.warnings, shop)


def _shot_rows(answer: Lead, shop: Shop) -> tuple[Row, ...]:
    shots = answer.shots
    if shots is None:
        return ()
    return (
        row("lead.shot.count", "shot to put in", float(shots.count), Measure.COUNT, shop),
        row("lead.shot.mass", "shot, all together", shots.mass, Measure.MASS, shop),
        row("lead.shot.off", "that leaves it heavy by (minus: light)", shots.off, Measure.MASS, shop),
    )


def _more_rows(answer: Lead, shop: Shop) -> tuple[Row, ...]:
    if answer.plain_more is None:
        return ()
    share = spoken(answer.aim.more, Measure.PART, shop)
    return (row("lead.plain_more", f"on paper, {share} more", answer.plain_more, Measure.MASS, shop),)


def _aim_words(answer: Lead, shop: Shop) -> str:
    aim = answer.aim
    if aim.reserve:
        return f"floats with {spoken(aim.reserve, Measure.PART, shop)} in reserve"
    if aim.velocity:
        does = "sinks" if aim.velocity > 0.0 else "rises"
        return f"{does} at {plain(1.0 / abs(aim.velocity), Measure.TIME_PER_FOOT, shop)}"
    if aim.more:
        return f"sinks, with {spoken(aim.more, Measure.PART, shop)} more than hangs it"
    return "hangs"


def _lead_headline(answer: Lead, shop: Shop) -> str:
    if answer.inside.value <= 0.0:
        return f"No {answer.material} makes it do that in {answer.water}: it is too heavy as it is."
    amount = plain(answer.inside, Measure.MASS, shop)
    asked = f"{amount} of {answer.material} inside and it {_aim_words(answer, shop)}, in {answer.water}"
    if answer.shots is None:
        spread = "" if answer.rate is None or not answer.aim.velocity else f" (the range: {answer.rate.words})"
        return f"Put {asked}{spread}."
    shots = answer.shots
    made = f"Put in {shots.count} shot, {plain(shots.mass, Measure.MASS, shop)} in all: {_state(answer.excess, shop)}"
    return f"{made}. What was asked: {asked}."


def _state(excess: Estimate, shop: Shop) -> str:
    side = "heavy" if excess.value > 0.0 else "light"
    return f"{plain(excess.size, Measure.MASS, shop)} {side}"


def sum_laid(answer: Sum, shop: Shop) -> Laid:
    """What a lure comes to, laid out."""
    rows = (
        row("sum.parts", "blank and parts add to", answer.on_scale, Measure.MASS, shop),
        row("sum.total", "finished weight, holes taken off", answer.total, Measure.MASS, shop),
        row("sum.cast", "casting weight", answer.total, Measure.CASTING_MASS, shop),
        row("sum.displaced", "water it displaces", answer.displaced, Measure.MASS, shop),
        row("sum.excess", HEAVY, answer.excess, Measure.MASS, shop),
        *rate_rows("sum", answer.rate, shop),
        row("sum.other.excess", f"heavy in {answer.other.words} by", answer.other.excess, Measure.MASS, shop),
        row("sum.bare", "water the bare blank displaces", answer.bare, Measure.MASS, shop),
        row("sum.plain", "on paper, bare water less parts", answer.plain, Measure.MASS, shop),
        row("sum.volume", "volume of the blank", answer.volume, Measure.VOLUME, shop),
        row("sum.wood", "wood density", answer.wood, Measure.DENSITY, shop),
        *narrow_rows("sum", answer.narrowing, Measure.MASS, shop),
    )
    does = "Sinks" if answer.excess.value > 0.0 else "Floats"
    if answer.excess.low < 0.0 < answer.excess.high:
        does = f"Floats to sinks, most likely {does.lower()}"
    rate = "" if answer.rate is None else f"; {rate_words(answer.rate, shop)}"
    return laid(f"{does} in {answer.water}: {_state(answer.excess, shop)}{rate}.", rows, answer.warnings, shop)
