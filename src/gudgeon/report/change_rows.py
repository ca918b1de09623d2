"""Rows of what one change does: wood, test weight, hooks, water, size, trim."""

from gudgeon.answers.changing import HookChange, Swap, Taped
from gudgeon.answers.classing import Rate
from gudgeon.answers.dropping import ClassLimits, Drop
from gudgeon.answers.resizing import POWERS, Resized
from gudgeon.answers.sitting import Sits
from gudgeon.answers.trimming import Trim
from gudgeon.answers.waters import WaterChange
from gudgeon.physics.spread import Estimate
from gudgeon.report.laying import Laid, laid, limit_words, narrow_rows, plain, rate_rows, rate_words, time_per_distance
from gudgeon.report.rows import Row, Shop, row, words_row
from gudgeon.units import Measure


def _signed(value: Estimate, shop: Shop) -> str:
    """ "2.1 ± 0.2 g more", "0.4 ± 0.1 g less"."""
    return f"{plain(value.size, Measure.MASS, shop)} {'more' if value.value >= 0.0 else 'less'}"


def swap_laid(answer: Swap, shop: Shop) -> Laid:
    """Another wood, laid out."""
    rows = (
        row("swap.lead", "lead for the new wood", answer.lead, Measure.MASS, shop),
        row("swap.change", "change of lead", answer.change, Measure.MASS, shop),
        row("swap.blank", "new blank", answer.blank, Measure.MASS, shop),
        row("swap.old_wood", "old wood", answer.old_wood, Measure.DENSITY, shop),
        row("swap.new_wood", "new wood", answer.new_wood, Measure.DENSITY, shop),
        row("swap.per_gram", "lead out for each gram of heavier blank", answer.per_gram * 1e-3, Measure.MASS, shop),
        *narrow_rows("swap", answer.narrowing, Measure.MASS, shop),
    )
    lead = plain(answer.lead, Measure.MASS, shop)
    head = f"In the new wood it takes {lead} of lead, {_signed(answer.change, shop)}; the finished weight stays."
    return laid(head, rows, answer.warnings, shop)


def taped_laid(answer: Taped, shop: Shop) -> Laid:
    """A test weight moved inside, laid out."""
    depth = () if answer.depth is None else (
        row("taped.depth", f"depth of a {answer.bit} bore", answer.depth, Measure.BORE, shop),)  # fmt: skip
    rows = (
        row("taped.inside", "inside, in a bore of its size", answer.inside, Measure.MASS, shop),
        row("taped.outside", "as taped", answer.taped, Measure.MASS, shop),
        row("taped.share", "inside, of what was taped", answer.share, Measure.PART, shop),
        row("taped.worth", "weight of either under water", answer.worth, Measure.MASS, shop),
        *depth,
        *narrow_rows("taped", answer.narrowing, Measure.MASS, shop),
    )
    bore = "" if answer.depth is None else (
        f" with a {answer.bit} bit, {plain(answer.depth, Measure.BORE, shop)} of full bore")  # fmt: skip
    head = (f"{plain(answer.taped, Measure.MASS, shop)} taped outside is {plain(answer.inside, Measure.MASS, shop)} "
            f"inside{bore}.")  # fmt: skip
    return laid(head, rows, answer.warnings, shop)


def hook_laid(answer: HookChange, shop: Shop) -> Laid:
    """Other hooks, laid out."""
    rows = [
        row("hook.net", "change of weight in water", answer.net, Measure.MASS, shop),
        row("hook.scale", "change on the scale", answer.on_scale, Measure.MASS, shop),
    ]
    if answer.excess is not None:
        rows.append(row("hook.excess", "heavy in water by, after", answer.excess, Measure.MASS, shop))
    rows += [*rate_rows("hook.before", answer.before, shop, "before"), *rate_rows("hook", answer.after, shop, "after")]
    if answer.tilt is not None:
        rows.append(row("hook.tilt", "turns the nose by (plus: up)", answer.tilt, Measure.ANGLE, shop))
    rows += narrow_rows("hook", answer.narrowing, Measure.MASS, shop)
    rate = "" if answer.after is None else f"; it then {rate_words(answer.after, shop)}"
    return laid(f"In water that is {_signed(answer.net, shop)}{rate}.", rows, answer.warnings, shop)


def salt_laid(answer: WaterChange, shop: Shop) -> Laid:
    """Another water, laid out."""
    rows = (
        row("salt.after", f"heavy by in {answer.there}", answer.after, Measure.MASS, shop),
        row("salt.before", f"heavy by in {answer.here}", answer.before, Measure.MASS, shop),
        row("salt.change", "change of weight in water", answer.change, Measure.MASS, shop),
        *rate_rows("salt.before", answer.rate_before, shop, "here"),
        *rate_rows("salt", answer.rate_after, shop, "there"),
        row("salt.inside", "to restore: lead inside (minus: out)", answer.inside, Measure.MASS, shop),
        row("salt.stick_on", "or stick-on lead", answer.stick_on, Measure.MASS, shop),
        row("salt.hooks", "or hooks heavier by, in all", answer.hooks, Measure.MASS, shop),
        row("salt.lift.wood", "lift gained by 100 cm3 of wood", answer.swelling.wood, Measure.MASS, shop),
        row("salt.lift.resin", "lift gained by 100 cm3 of resin", answer.swelling.resin, Measure.MASS, shop),
        row("salt.lift.hollow", "lift gained by 100 cm3 of hollow shell", answer.swelling.hollow, Measure.MASS, shop),
        *narrow_rows("salt", answer.narrowing, Measure.MASS, shop),
    )
    does = "sinks" if answer.after.value > 0.0 else "floats"
    side = "heavy" if answer.after.value > 0.0 else "light"
    head = (f"In {answer.there} it {does}: {plain(answer.after.size, Measure.MASS, shop)} {side}. To bring it back: "
            f"{_signed(answer.inside, shop)} lead inside.")  # fmt: skip
    return laid(head, rows, answer.warnings, shop)


def scale_laid(answer: Resized, shop: Shop) -> Laid:
    """A pattern at another size, laid out."""
    guessed = ", only scaled: weigh them" if answer.hardware_guessed else ""
    powers = tuple(
        words_row(f"scale.power.{place}", what, how) for place, (what, how) in enumerate(POWERS, start=1)
    )  # fmt: skip
    rows = (
        row("scale.lead", "lead inside", answer.lead, Measure.MASS, shop),
        row("scale.naive", "lead by the cube of the factor", answer.naive, Measure.MASS, shop),
        row("scale.naive_excess", "with that heavy by (minus: light)", answer.naive_excess, Measure.MASS, shop),
        row("scale.excess", "heavy in water by, to keep the rate", answer.excess, Measure.MASS, shop),
        row("scale.old_excess", "the old one heavy by", answer.old_excess, Measure.MASS, shop),
        row("scale.total", "finished weight", answer.total, Measure.MASS, shop),
        row("scale.cast", "casting weight", answer.total, Measure.CASTING_MASS, shop),
        row("scale.volume", "volume of the body", answer.volume, Measure.VOLUME, shop),
        row("scale.blank", "blank", answer.blank, Measure.MASS, shop),
        row("scale.hardware", f"hooks and fittings{guessed}", answer.hardware, Measure.MASS, shop),
        row("scale.coats", "coats", answer.coats, Measure.MASS, shop),
        *powers,
        *narrow_rows("scale", answer.narrowing, Measure.MASS, shop),
    )
    head = (f"At {answer.factor:g} times the size it takes {plain(answer.lead, Measure.MASS, shop)} of lead and weighs "
            f"{plain(answer.total, Measure.CASTING_MASS, shop)}.")  # fmt: skip
    return laid(head, rows, answer.warnings, shop)


def trim_laid(answer: Trim, shop: Shop) -> Laid:
    """Ways to level a sinker, laid out."""
    rows: list[Row] = [row("trim.moment", "moment that tilts it, nose-down", answer.moment, Measure.MOMENT, shop)]
    for place, fix in enumerate(answer.fixes, start=1):
        name = f"trim.{place}"
        rows += [
            words_row(f"{name}.fix", f"way {place}", fix.words),
            row(f"{name}.mass", "  weight that moves", fix.mass, Measure.MASS, shop),
            row(f"{name}.moment", "  moment it takes away", fix.moment, Measure.MOMENT, shop),
            row(f"{name}.left", "  tilt left (minus: nose-down)", fix.left, Measure.ANGLE, shop),
            row(f"{name}.excess", "  heavy in water by (minus: light)", fix.excess, Measure.MASS, shop),
            *rate_rows(name, fix.rate, shop, margin="  ")[1:],
        ]
    rows += narrow_rows("trim", answer.narrowing, Measure.MOMENT, shop)
    best = answer.fixes[0]
    rate = "" if best.rate is None else f"; it then {rate_words(best.rate, shop)}"
    return laid(f"Least change of sink: {best.words}{rate}.", rows, answer.warnings, shop)


def drop_laid(answer: Drop, shop: Shop) -> Laid:
    """A timed drop, laid out."""
    rate = Rate(answer.velocity, answer.words)
    rows = [*rate_rows("drop", rate, shop)]
    for name, label, value in (
        ("excess", "heavy in water by (minus: light)", answer.excess),
        ("aim_excess", "wanted in water for the rate asked", answer.aim_excess),
        ("lead", "lead inside to add (minus: take out)", answer.lead),
    ):
        rows += [] if value is None else [row(f"drop.{name}", label, value, Measure.MASS, shop)]
    if answer.drag is not None:
        rows.append(row("drop.drag", "drag coefficient on the area seen from above", answer.drag, Measure.NUMBER, shop))
    rows += narrow_rows("drop", answer.narrowing, Measure.MASS, shop) if answer.excess is not None else []
    lead = "" if answer.lead is None else f" For the rate asked, {_signed(answer.lead, shop)} lead inside."
    pace = time_per_distance(rate.velocity) if shop is Shop.METRIC else None
    metres = "" if pace is None else f", {plain(pace, Measure.TIME_PER_DISTANCE, shop)}"
    return laid(f"It {rate_words(rate, shop)}{metres}: {answer.words}.{lead}", rows, answer.warnings, shop)


def classes_laid(limits: tuple[ClassLimits, ...], shop: Shop) -> Laid:
    """The class words with their limits, laid out."""
    rows: list[Row] = []
    for one in limits:
        name = one.kind.word.replace(" ", "_")
        rows.append(words_row(f"classes.{name}", one.kind.word, limit_words(one.kind, shop)))
        for end, value in (("slow", one.slow), ("fast", one.fast)):
            if value is not None:
                rows.append(row(f"classes.{name}.{end}", f"  {end} end, heavy by (minus: light)", value, Measure.MASS,
                                shop, standing="estimate"))  # fmt: skip
    head = "The trade has no standard for these words; gudgeon uses them with these limits."
    return laid(head, rows, (), shop)


def sits_laid(answer: Sits, shop: Shop) -> Laid:
    """Where a cigar's lead goes, laid out."""
    rows = (
        row("sits.lead_at", "middle of the lead, from the nose", answer.lead_at, Measure.LENGTH, shop,
            standing="estimate"),
        row("sits.angle", "tail-down", answer.angle, Measure.ANGLE, shop),
        row("sits.per_mm", "turns, for each mm the lead goes aft", answer.per_metre * 1e-3, Measure.ANGLE, shop,
            standing="estimate"),
        row("sits.reserve", "reserve", answer.reserve, Measure.PART, shop, standing="estimate"),
        row("sits.total", "finished weight", answer.total, Measure.MASS, shop),
        *narrow_rows("sits", answer.narrowing, Measure.LENGTH, shop),
    )  # fmt: skip
    head = (f"Put the lead {plain(answer.lead_at, Measure.LENGTH, shop)} from the nose and it sits "
            f"{plain(answer.angle, Measure.ANGLE, shop)} tail-down.")  # fmt: skip
    return laid(head, rows, answer.warnings, shop)
