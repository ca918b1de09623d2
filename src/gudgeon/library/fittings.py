"""Where fittings usually sit and how much of each is buried: defaults for what the maker leaves out."""

import csv
from dataclasses import dataclass
from functools import cache
from pathlib import Path


@dataclass(frozen=True)
class FittingHabit:
    """How one kind of fitting usually goes in.

    kind         : the trade's word
    buried_share : share of its volume that sits in the wood
    sits         : "centre line" or "belly"
    source       : how this is known
    """

    kind: str
    buried_share: float
    sits: str
    source: str


@cache
def fitting_habits() -> dict[str, FittingHabit]:
    """Every kind of fitting, by its word."""
    with Path(__file__).with_name("fittings.csv").open(encoding="utf-8", newline="") as table:
        return {
            line["kind"]: FittingHabit(line["kind"], float(line["buried_share"]), line["sits"], line["how_known"])
            for line in csv.DictReader(table)
        }
