"""What the answers from a scale and a jug share on a screen: a rate as rows, and the measurement worth making."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from gudgeon.answers.classing import FloatClass, Rate, class_of, middle_words
from gudgeon.answers.finding import Finding
from gudgeon.answers.known import Narrowing
from gudgeon.physics.estimate import Estimate
from gudgeon.report.rows import Row, Shop, row, words_row
from gudgeon.report.text import Told, told_of
from gudgeon.units import Measure


@dataclass(frozen=True)
class Laid:
    """An answer laid out: the sentence that leads, the rows, the warnings worst first."""

    headline: str
    rows: tuple[Row, ...]
    warnings: tuple[Told, ...]


def time_per_distance(velocity: Estimate) -> Estimate | None:
    """Seconds per metre of a velocity [m/s]; None where its range reaches both ways, or as good as hangs."""
    slowest = min(abs(velocity.low), abs(velocity.high))
    if velocity.low * velocity.high <= 0.0 or slowest < 1e-6:
        return None
    speeds = sorted((abs(velocity.low), abs(velocity.high)))
    return Estimate(1.0 / abs(velocity.value), 1.0 / speeds[1], 1.0 / speeds[0])


def rate_rows(prefix: str, rate: Rate | None, shop: Shop, when: str = "", margin: str = "") -> tuple[Row, ...]:
    """Velocity, time per foot and per metre, and class of a rate; nothing where no area was given."""
    if rate is None:
        return ()
    after = f", {when}" if when else ""
    kind = class_of(rate.velocity.value)
    verb = "sinks" if rate.velocity.value > 0.0 else "rises"
    return (
        row(f"{prefix}.speed", f"{margin}speed, down is plus{after}", rate.velocity, Measure.SPEED, shop,
            standing="estimate"),
        *_pace_rows(prefix, rate, shop, (f"{margin}{verb} at{after}", f"{margin}rate{after}"), margin),
        words_row(f"{prefix}.class", f"{margin}trade word{after}", rate.words, standing="estimate"),
        words_row(f"{prefix}.class_limits", f"{margin}   {middle_words(kind.word, rate.words)}",
                  limit_words(kind, shop)),
    )  # fmt: skip


def limit_words(kind: FloatClass, shop: Shop) -> str:
    """The limits of a class as its reader times them: "down 1 ft in 1.5 to 3 s", "down 1 m in 4.9 to 9.8 s"."""
    if shop is Shop.INCH:
        return kind.limits
    way, least = "down" if kind.fast > 0.0 else "up", f"{1.0 / abs(kind.fast):.2g}"
    if kind.slow == 0.0:
        return f"less than 1 m in {least} s either way"
    most = f"{1.0 / abs(kind.slow):.2g}"
    return f"{way} 1 m in less than {most} s" if math.isinf(kind.fast) else f"{way} 1 m in {least} to {most} s"


def _pace_rows(prefix: str, rate: Rate, shop: Shop, labels: tuple[str, str], margin: str) -> tuple[Row, ...]:
    pace = time_per_distance(rate.velocity)
    if pace is None:
        return (words_row(f"{prefix}.rate", labels[1], rate.words, standing="estimate"),)
    return (
        row(f"{prefix}.rate", labels[0], pace, Measure.TIME_PER_FOOT, shop, standing="estimate"),
        row(f"{prefix}.rate_per_metre", f"{margin}   which is", pace, Measure.TIME_PER_DISTANCE, Shop.METRIC,
            standing="estimate"),
    )  # fmt: skip


def laid(headline: str, rows: Sequence[Row], warnings: Sequence[Finding], shop: Shop) -> Laid:
    """An answer laid out, its warnings said in the shop's units."""
    return Laid(headline, tuple(rows), told_of(warnings, shop))


def rate_words(rate: Rate, shop: Shop) -> str:
    """A rate in a sentence: "sinks, 3.0 s/ft (1.8 to 6.9)", or "floats to sinks"."""
    pace = time_per_distance(rate.velocity)
    if pace is None:
        return rate.words
    does = "sinks" if rate.velocity.value > 0.0 else "rises"
    return f"{does} at {plain(pace, Measure.TIME_PER_FOOT, shop)}"


def plain(value: Estimate | float, measure: Measure, shop: Shop) -> str:
    """A number as every face shows it."""
    return row("", "", value, measure, shop).shown


def narrow_rows(prefix: str, narrowing: Narrowing | None, measure: Measure, shop: Shop) -> tuple[Row, ...]:
    """The one measurement that would narrow the answer most."""
    if narrowing is None:
        return (words_row(f"{prefix}.narrow", "narrows it most", "nothing more with scale, jug or watch"),)
    before, after = (_spread_words(value, measure, shop) for value in (narrowing.before, narrowing.after))
    return (words_row(f"{prefix}.narrow", "narrows it most", f"{narrowing.measurement}: ± {before} becomes ± {after}"),)


def _spread_words(spread: float, measure: Measure, shop: Shop) -> str:
    """A half-width to two figures, in the shop's unit."""
    one = row("", "", Estimate(spread, spread, spread), measure, shop)
    value = float(one.value) if isinstance(one.value, float) else 0.0
    digits = max(0, 1 - math.floor(math.log10(value))) if value > 0.0 else 0
    return f"{value:.{min(digits, 3)}f} {one.unit}".strip()
