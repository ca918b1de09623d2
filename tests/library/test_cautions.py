"""Cautions by subject, notes on lead law by mass, dust by wood."""

import pytest

from gudgeon.errors import OutsideSource
from gudgeon.library.cautions import caution_subjects, cautions_for, lead_law_notes, sensitising
from gudgeon.library.source import table
from gudgeon.library.woods import all_species, species


def test_what_there_are_cautions_about() -> None:
    assert set(caution_subjects()) == {
        "lead", "lead law", "wood dust", "resin", "uv lamp", "hooks", "saws", "solvents",
    }  # fmt: skip


def test_cautions_come_once_each_in_the_table_s_order() -> None:
    found = cautions_for(["hooks", "lead", "hooks"])
    assert [caution.subject for caution in found] == ["lead", "lead", "hooks"]
    assert cautions_for([]) == ()
    assert len(cautions_for(caution_subjects())) == len(table("cautions"))


def test_every_caution_is_a_sentence() -> None:
    for caution in cautions_for(caution_subjects()):
        assert caution.words[0].isupper()
        assert caution.words.endswith(".")


def test_an_unknown_subject_is_refused() -> None:
    with pytest.raises(OutsideSource, match="no cautions about dragons; only lead, lead law"):
        cautions_for(["lead", "dragons"])


def test_only_rules_whose_band_holds_the_mass_are_told() -> None:
    def places(mass: float) -> str:
        return " ".join(note.place for note in lead_law_notes(mass))

    assert "Vermont" in places(0.014)
    assert "Vermont" not in places(0.020)
    assert "Great Britain" in places(0.020)
    assert "Great Britain" not in places(0.030)
    assert "Great Britain" not in places(0.00005)
    assert "Canada" in places(0.030)
    assert "Canada" not in places(0.060)
    assert "Denmark" in places(5.0)
    assert len(lead_law_notes()) == len(table("lead_law"))


def test_every_sensitising_wood_is_in_the_table_of_woods() -> None:
    known = {wood.name for wood in all_species()}
    assert {row["name"] for row in table("sensitising")} <= known


def test_cedar_mahogany_and_teak_are_told_apart_from_basswood() -> None:
    for name in ("western red cedar", "honduran mahogany", "teak", "spanish cedar"):
        caution = sensitising(species(name))
        assert caution is not None
        assert caution.words.startswith(species(name).name)
    assert sensitising(species("basswood")) is None
