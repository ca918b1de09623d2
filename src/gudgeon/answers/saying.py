"""Weights and rates as a warning says them: grams, with no more digits than count."""

from gudgeon.units import FOOT


def grams(mass: float) -> str:
    """A weight [kg], unsigned, in words: "0.3 g", "10 g", "46.5 g"."""
    value = abs(mass) * 1e3
    if value < 0.095:
        return f"{value:.2f} g"
    return f"{value:.1f}".removesuffix(".0") + " g"


def exact_grams(mass: float) -> str:
    """A weight [kg] as it stands on a scale: "46.49 g"."""
    return f"{mass * 1e3:.2f} g"


def heavy_or_light(excess: float) -> str:
    """ "1.2 g heavy", "0.3 g light"."""
    if abs(excess) < 5e-6:
        return "just hanging"
    return f"{grams(excess)} {'heavy' if excess > 0.0 else 'light'}"


def seconds_per_foot(velocity: float) -> str:
    """A rate [m/s] by the foot: "3.0 s/ft"."""
    seconds = FOOT / abs(velocity)
    return f"{seconds:.0f} s/ft" if seconds >= 9.5 else f"{seconds:.1f} s/ft"


def sinks_or_floats(excess: float) -> str:
    """What a mass in water [kg] does."""
    return "sinks" if excess > 0.0 else "floats"
