"""Slips of the pen: a total that its own parts do not make, and a total that is heavier than its water."""

from collections.abc import Sequence

from gudgeon.answers.saying import exact_grams, grams
from gudgeon.physics.spread import root_sum_square

SCALE_STEP = 5e-6  # kg: half the last digit of a weight written to 0.01 g


def parts_slip(total: float, parts: Sequence[float], spreads: Sequence[float]) -> str:
    """What is wrong between a total and its parts, in one sentence; empty when they agree.

    total   : [kg] as told
    parts   : (n,) [kg] as told
    spreads : (n,) [kg] half-widths, what the parts may honestly differ by
    """
    summed = sum(parts)
    if not parts or abs(total - summed) <= root_sum_square(spreads) + SCALE_STEP:
        return ""
    side = "less" if summed < total else "more"
    words = f"told {exact_grams(total)}, but the parts add to {exact_grams(summed)}, {grams(total - summed)} {side}"
    digit = _changed_digit(exact_grams(total), exact_grams(summed))
    if digit:
        words += f"; one digit differs ({digit[0]} for {digit[1]})"
    return f"{words}. The sums here go on from the parts; weigh the whole again"


def heavier_slip(total: float, displaced: float) -> str:
    """What a total means that is more than the water it displaces, in one sentence; empty when it is not.

    total, displaced : [kg]
    """
    if total <= displaced:
        return ""
    return (f"at {exact_grams(total)} it is already {grams(_rounded(total - displaced))} heavier than the water it "
            "displaces; ballast makes it sink faster")  # fmt: skip


def _rounded(mass: float) -> float:
    """To a whole gram above 5 g, so that a slip is told in round numbers."""
    return round(mass, 3) if abs(mass) > 5e-3 else mass


def _changed_digit(told: str, summed: str) -> tuple[str, str] | None:
    if len(told) != len(summed):
        return None
    differing = [(left, right) for left, right in zip(told, summed, strict=True) if left != right]
    return differing[0] if len(differing) == 1 else None
