"""What can hurt, in plain words: lead and the law on it, dust, resins, hooks, saws, solvents."""

from collections.abc import Iterable
from dataclasses import dataclass

from gudgeon.errors import OutsideSource
from gudgeon.library.source import Row, Source, figure, source_of, table
from gudgeon.library.woods import Species
from gudgeon.units import Mass


@dataclass(frozen=True)
class Caution:
    """One warning, by what it is about."""

    subject: str
    words: str
    source: Source


def _caution_of(row: Row) -> Caution:
    return Caution(row["subject"], row["words"], source_of(row))


def caution_subjects() -> tuple[str, ...]:
    """What there are cautions about, in the table's order."""
    return tuple(dict.fromkeys(row["subject"] for row in table("cautions")))


def cautions_for(subjects: Iterable[str]) -> tuple[Caution, ...]:
    """The cautions about these subjects, in the table's order.

    subjects : "lead", "lead law", "wood dust", "resin", "uv lamp", "hooks", "saws", "solvents"
    raises   : OutsideSource for a subject there is not
    """
    wanted = set(subjects)
    unknown = sorted(wanted - set(caution_subjects()))
    if unknown:
        raise OutsideSource(f"there are no cautions about {', '.join(unknown)}; only {', '.join(caution_subjects())}")
    return tuple(_caution_of(row) for row in table("cautions") if row["subject"] in wanted)


@dataclass(frozen=True)
class LawNote:
    """What one place is known to forbid, in general words; never the law itself.

    least, most : [kg] the band of weights the rule is about; None where it has no such end
    """

    place: str
    rule: str
    least: Mass | None
    most: Mass | None
    source: Source


def _law_note_of(row: Row) -> LawNote:
    least, most = (figure(row[column]) for column in ("least_mass_g", "most_mass_g"))
    return LawNote(row["place"], row["rule"], None if least is None else least / 1000.0,
                   None if most is None else most / 1000.0, source_of(row))  # fmt: skip


def lead_law_notes(mass: Mass | None = None) -> tuple[LawNote, ...]:
    """What is known of rules on lead tackle that would touch a piece of this mass: check your local law.

    mass    : [kg] of the lead; every note when None
    returns : the notes whose band holds the mass, or that have none
    """
    notes = tuple(_law_note_of(row) for row in table("lead_law"))
    return notes if mass is None else tuple(note for note in notes if _touches(note, mass))


def _touches(note: LawNote, mass: Mass) -> bool:
    return (note.least is None or mass >= note.least) and (note.most is None or mass <= note.most)


def sensitising(wood: Species) -> Caution | None:
    """What is known against a wood's dust beyond all wood dust; None when nothing is in the table."""
    for row in table("sensitising"):
        if row["name"] == wood.name:
            return Caution("wood dust", f"{wood.name}: {row['effect']}.", source_of(row))
    return None
