"""Changes tried by towing: when a trend is one, and what each change does to what is towed."""

import math
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from gudgeon.answers import tow_fixes as module
from gudgeon.answers.as_seen import Sighting
from gudgeon.answers.mending import mend
from gudgeon.answers.swum import LEANS, SWIMS, TUMBLES
from gudgeon.answers.tow_fixes import _better, _roll, _share, _trend
from gudgeon.answers.tow_runs import silent
from gudgeon.design.file import load
from gudgeon.errors import NoAnswer
from gudgeon.report.mend_rows import mend_headline
from gudgeon.report.rows import Shop

EXAMPLES = Path(__file__).parents[2] / "examples"


def run(*kinds: str, roll: float = 0.2) -> Any:
    """A tow whose starts ended so."""
    readings = tuple(SimpleNamespace(kind=kind, most_roll=roll) for kind in kinds)
    return SimpleNamespace(readings=readings, share=lambda kind: sum(one == kind for one in kinds) / len(kinds))


def test_what_is_wanted_of_a_start_goes_by_the_symptom() -> None:
    seen = run(SWIMS, SWIMS, LEANS, TUMBLES)
    assert _share("lively", seen) == 0.5
    assert _share("steady", seen) == 0.5
    assert _share("spin", seen) == 0.75


def test_a_roll_right_round_is_none() -> None:
    assert _roll(run(SWIMS, SWIMS, SWIMS, roll=0.3)) == 0.3
    assert _roll(run(TUMBLES, TUMBLES, SWIMS)) is None
    assert _roll(run(LEANS, roll=7.0)) is None


@pytest.mark.parametrize(
    ("goal", "shares", "rolls", "sign"),
    [("lively", (0.1, 0.5), (0.2, 0.9), 1), ("lively", (0.5, 0.5), (0.2, 0.1), 0),
     ("steady", (0.9, 0.2), (0.2, 0.2), -1), ("steady", (1.0, 1.0), (0.2, 0.1), 1),
     ("steady", (1.0, 0.9), (0.2, 0.3), -1), ("steady", (1.0, 1.0), (0.2, 0.205), 0),
     ("steady", (1.0, 1.0), (None, 0.2), 0)],
)  # fmt: skip
def test_better_is_more_starts_as_wanted_or_as_many_that_roll_less(goal: str, shares: tuple[float, float], rolls: Any,
                                                                   sign: int) -> None:  # fmt: skip
    assert _better(goal, shares, rolls) == sign


def test_a_trend_is_told_only_where_the_constants_agree() -> None:
    bad, good = run(*[LEANS] * 4), run(*[SWIMS] * 4)
    assert _trend("steady", 1.0, [bad] * 5, [good] * 5).does == "helps"
    assert _trend("steady", 1.0, [bad] * 5, [good, good, good, bad, bad]).does == "helps"
    assert _trend("steady", 1.0, [bad] * 5, [good, good, bad, bad, bad]).does == "unsure"
    assert _trend("steady", 1.0, [bad, bad, bad, bad, good], [good, good, good, good, bad]).does == "unsure"
    assert _trend("steady", 1.0, [good] * 5, [bad] * 5).does == "harms"
    assert _trend("steady", 1.0, [bad] * 4, [good] * 4).after == 1.0


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two starts and two sets of constants: enough to go the whole way."""
    monkeypatch.setattr("gudgeon.answers.tow_runs.STARTS", 2)
    monkeypatch.setattr(module, "constant_sets", lambda design: [{}, {"crossflow_drag_sideways": 1.2}])


def test_a_diver_that_blows_out_is_given_every_rung_of_its_ladder(quick: None) -> None:
    told: list[str] = []

    def stage(words: str) -> Any:
        told.append(words)
        return silent

    found = mend(load(EXAMPLES / "diver.toml"), "blows out", Sighting(speed=1.5), stage=stage)
    assert told == ["towing the lure as it is, and changed"]
    assert found.symptom.name == "rolls at speed"
    assert {fix.rung.change for fix in found.fixes} == {"heavier belly hook", "stick-on keel", "eye out", "eye lower",
                                                        "narrower lip", "lower lead"}  # fmt: skip
    assert found.rest == ()
    assert all(fix.trend is not None and fix.trend.speed >= 1.5 for fix in found.fixes)
    assert all(fix.cures == (fix.trend.does == "helps") for fix in found.fixes if fix.trend)
    order = [(not fix.cures, fix.trend.does == "harms") for fix in found.fixes if fix.trend]
    assert order == sorted(order)
    lower = next(fix for fix in found.fixes if fix.rung.change == "lower lead")
    assert lower.after.upright.value > found.now.upright.value
    assert lower.after.mass.value == pytest.approx(found.now.mass.value)
    hook = next(fix for fix in found.fixes if fix.rung.change == "heavier belly hook")
    assert hook.after.mass.value > found.now.mass.value
    narrow = next(fix for fix in found.fixes if fix.rung.change == "narrower lip")
    assert narrow.after.mass.value < found.now.mass.value
    assert any("is a trend" in finding.words for finding in found.findings)
    if found.best is not None:
        assert "by the trend of the model it helps" in mend_headline(found, Shop.METRIC)


def test_a_lure_without_joint_or_fin_has_no_rungs_of_them(quick: None) -> None:
    found = mend(load(EXAMPLES / "diver.toml"), "spins", Sighting())
    assert found.fixes == ()
    assert not any("swing of the joint" in rung.words for rung in (*found.idle, *found.rest))
    assert [rung.rung for rung in found.rest] == ["tow eye", "rebuild"]


def test_a_lure_without_a_tow_eye_cannot_be_towed() -> None:
    design = load(EXAMPLES / "diver.toml")
    fittings = tuple(one for one in design.fittings if one.kind != "tow eye")
    with pytest.raises(NoAnswer):
        mend(design.model_copy(update={"fittings": fittings}), "dead", Sighting(speed=1.0))


def test_the_speed_is_the_one_at_which_the_symptom_shows(monkeypatch: pytest.MonkeyPatch) -> None:
    """Towed faster for one that rolls, slower for one that must swim: the first at which most starts do not."""
    towed_at: list[float] = []

    def towed(tasks: Any, progress: Any = silent) -> Any:
        towed_at.extend(task.speed for task in tasks)
        return tuple(run(*[LEANS if task.speed > 1.9 else SWIMS] * 2) for task in tasks)

    monkeypatch.setattr(module, "towed", towed)
    monkeypatch.setattr(module, "towed_chain", lambda *_, **__: None)
    seen = SimpleNamespace(design=load(EXAMPLES / "glider.toml"), lure=None)
    steady, lively = SimpleNamespace(goal="steady"), SimpleNamespace(goal="lively")
    assert module._speed(seen, steady, 1.0) == (2.0, True)  # type: ignore[arg-type]
    assert module._speed(seen, lively, 1.0) == (1.0, False)  # type: ignore[arg-type]
    assert towed_at == [1.0, 1.5, 2.0, 1.0, 0.7, 0.5]
    first, shows = module._speed(seen, lively, None)  # type: ignore[arg-type]
    assert math.isclose(first, 0.44704)  # its own slowest, a mile an hour
    assert not shows
