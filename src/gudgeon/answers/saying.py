"""Weights and rates as a warning says them: grams, with no more digits than count."""

from collections.abc import Mapping, Sequence

from gudgeon.answers.finding import Finding, Gravity, Number


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


def sinks_or_floats(excess: float) -> str:
    """What a mass in water [kg] does."""
    return "sinks" if excess > 0.0 else "floats"


def wrong(words: str, **numbers: Number) -> Finding:
    """It will not do what it is meant to."""
    return Finding(Gravity.WRONG, _kept(words, numbers), numbers)


def watch(words: str, **numbers: Number) -> Finding:
    """It may not do what it is meant to."""
    return Finding(Gravity.WATCH, _kept(words, numbers), numbers)


def note(words: str, **numbers: Number) -> Finding:
    """Good to know."""
    return Finding(Gravity.NOTE, _kept(words, numbers), numbers)


def listed(words: Sequence[str]) -> str:
    """ "eyes", "eyes and lip", "eyes, hinges and fin"."""
    return " and ".join((", ".join(words[:-1]), words[-1])) if len(words) > 1 else "".join(words)


def _kept(words: str, numbers: Mapping[str, Number]) -> str:
    """Words without numbers to fill in may hold a maker's own braces."""
    return words if numbers else words.replace("{", "{{").replace("}", "}}")


def plain(name: str) -> str:
    """A maker's own name inside words with numbers to fill in: its braces stay braces."""
    return name.replace("{", "{{").replace("}", "}}")
