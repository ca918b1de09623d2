"""What goes wrong at the water, and the ladder of changes that mend it: the cheapest, and what can be undone, first.

All of it is common practice, no source: a working list that makers may read otherwise.
"""

from dataclasses import dataclass
from difflib import get_close_matches

from gudgeon.errors import OutsideSource
from gudgeon.library.source import Row, Source, source_of, table


@dataclass(frozen=True)
class Symptom:
    """Something seen at the water.

    also : other words for it
    goal : what mending it asks for: "level", "upright", "rate", "steady", "lively", "spin"; "words" where nothing of it
           is computed
    look : its likely causes, the commonest first
    """

    name: str
    also: tuple[str, ...]
    goal: str
    look: str
    source: Source


@dataclass(frozen=True)
class Rung:
    """One step of a ladder.

    rung      : what is worked on: "hooks", "stick-on", "lead"
    change    : the kind of change, for the model; empty where it has none
    is_undone : whether it can be undone
    words     : what to do
    """

    symptom: str
    rung: str
    change: str
    is_undone: bool
    words: str
    source: Source


def symptoms() -> tuple[Symptom, ...]:
    """Everything the table knows."""
    return tuple(_symptom_of(row) for row in table("symptoms"))


def _symptom_of(row: Row) -> Symptom:
    return Symptom(row["symptom"], tuple(row["also"].split(";")), row["goal"], row["look"], source_of(row))


def symptom(words: str) -> Symptom:
    """The symptom by its name or in other words; raises OutsideSource with the nearest there are."""
    said = " ".join(words.lower().split())
    known = {name: one for one in symptoms() for name in (one.name, *one.also)}
    if said in known:
        return known[said]
    near = get_close_matches(said, known, n=3, cutoff=0.55)
    offer = list(dict.fromkeys(known[name].name for name in near)) or [one.name for one in symptoms()]
    raise OutsideSource(f"'{words}' is nothing the ladder knows; say {', '.join(offer)}")


def ladder(name: str) -> tuple[Rung, ...]:
    """The steps for a symptom by its name, in the order they are tried."""
    return tuple(Rung(row["symptom"], row["rung"], row["change"], row["undone"] == "yes", row["words"], source_of(row))
                 for row in table("ladder") if row["symptom"] == name)  # fmt: skip
