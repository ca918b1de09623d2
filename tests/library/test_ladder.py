"""The failure ladder: every symptom has one, every rung is of a known kind, and names are found in other words."""

import pytest

from gudgeon.errors import OutsideSource
from gudgeon.library.ladder import ladder, symptom, symptoms
from gudgeon.library.source import table

GOALS = {"level", "upright", "rate", "steady", "lively", "spin", "words"}


def test_every_symptom_has_a_ladder_and_every_rung_a_symptom() -> None:
    names = [one.name for one in symptoms()]
    assert len(names) == len(set(names)) > 20
    assert {row["symptom"] for row in table("ladder")} == set(names)
    assert all(ladder(name) for name in names)
    assert {one.goal for one in symptoms()} == GOALS


def test_no_two_symptoms_are_called_the_same() -> None:
    said = [words for one in symptoms() for words in (one.name, *one.also)]
    assert len(said) == len(set(said))
    assert all(words == words.lower().strip() for words in said)


def test_all_of_it_is_told_as_common_practice() -> None:
    told = [one.source for one in symptoms()] + [rung.source for one in symptoms() for rung in ladder(one.name)]
    assert {source.work for source in told} == {"common practice, no source"}


@pytest.mark.parametrize("name", ["nose-down", "nose-up", "sinks fast", "floats", "rolls at speed", "swims only fast"])
def test_hooks_are_the_first_rung_and_the_drill_the_last_but_rebuilding(name: str) -> None:
    rungs = [rung for rung in ladder(name) if rung.rung != "rebuild"]
    assert rungs[0].rung == "hooks"
    assert rungs[0].is_undone
    drilled = [place for place, rung in enumerate(rungs) if rung.rung == "lead"]
    assert not any(rung.rung in ("hooks", "stick-on") for rung in rungs[min(drilled) :])


def test_a_symptom_is_known_by_other_words_and_in_any_case() -> None:
    assert symptom("Blows  out").name == "rolls at speed"
    assert symptom("tail-down").name == "nose-up"


def test_what_is_not_known_is_refused_with_the_nearest() -> None:
    with pytest.raises(OutsideSource, match="say nose-down"):
        symptom("nose downn")
    with pytest.raises(OutsideSource, match=r"sinks fast, .*, dead"):
        symptom("zzzzz")
