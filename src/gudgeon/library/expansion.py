"""How much bodies swell with warmth: volume expansion of the things lures are made of."""

from dataclasses import dataclass

from gudgeon.errors import OutsideSource
from gudgeon.library.source import Source


@dataclass(frozen=True)
class Expansion:
    """Volume expansion of a body.

    value, spread : [1/K]
    """

    name: str
    value: float
    spread: float
    source: Source


_HANDBOOK = "handbook values"
EXPANSIONS = (
    Expansion("wood", 6.5e-5, 2.0e-5,
              Source(_HANDBOOK, "dry wood: 4e-6 along the grain, 25e-6 to 35e-6 twice across", "from memory")),
    Expansion("resin", 2.2e-4, 0.4e-4,
              Source(_HANDBOOK, "cast polyurethane or epoxy with bubbles: 60e-6 to 85e-6 each way", "from memory")),
    Expansion("hollow plastic", 2.25e-4, 0.4e-4,
              Source(_HANDBOOK, "hard plastic shell: 70e-6 to 90e-6 each way", "from memory")),
)  # fmt: skip


def expansion(body: str) -> Expansion:
    """The volume expansion of a body: "wood", "resin", "hollow plastic".

    raises : OutsideSource, with the names there are
    """
    for one in EXPANSIONS:
        if one.name == " ".join(body.casefold().split()):
            return one
    raise OutsideSource(f"no body '{body}' is known: say {', '.join(one.name for one in EXPANSIONS)}")
