"""Constants from dock tests: with the model itself for water, its known constants are found again."""

from pathlib import Path
from statistics import median

import pytest

from gudgeon.answers.check import check
from gudgeon.answers.swum import SWIMS
from gudgeon.answers.tow_runs import TowTask, towed
from gudgeon.answers.towed_chain import towed_chain
from gudgeon.answers.water_fit import family_of, water_fit
from gudgeon.design.file import load, parse
from gudgeon.errors import BadDesign, NoAnswer
from gudgeon.library.towing import towing_coefficients
from gudgeon.physics.straight_tow import straight_drag
from gudgeon.report.fit_rows import design_lines, fit_headline, fit_sections, fit_warnings
from gudgeon.report.rows import Shop

EXAMPLES = Path(__file__).parents[2] / "examples"
TEXT = (EXAMPLES / "lanternmere.toml").read_text(encoding="utf-8").partition("\n[[dock]]")[0]
HOOKS = 1.14
ACROSS = 0.85


@pytest.fixture(scope="module")
def lure():
    return check(load(EXAMPLES / "lanternmere.toml")).lure


def with_tests(*tests):
    return parse(TEXT + "".join(f"\n[[dock]]\n{test}\n" for test in tests))


@pytest.fixture(scope="module")
def beats(lure):
    """Beats a second at 2 m/s in a water whose flow across the body is gentler than the table's."""
    design = load(EXAMPLES / "lanternmere.toml")
    chain = towed_chain(design, lure, speed=2.0, coefficients={"crossflow_drag_sideways": ACROSS})
    (run,) = towed([TowTask(chain, 2.0)])
    return median(reading.beat for reading in run.of(SWIMS))


def test_a_taped_pull_finds_the_drag_of_the_hooks_again(lure):
    design = load(EXAMPLES / "lanternmere.toml")
    chain = towed_chain(design, lure, speed=1.5, coefficients={"hook_drag_coefficient": HOOKS})
    pull = 0.5 * chain.density * 1.5**2 * straight_drag(chain).whole
    tests = with_tests(f'speed = "1.5 m/s"\npull = "{pull:.6f} N ± {0.002 * pull:.6f} N"\ntaped = true')
    found = water_fit(tests, lure)
    (constant,) = found.constants
    assert constant.name == "hook_drag_coefficient"
    assert constant.after.low < HOOKS < constant.after.high
    assert constant.after.value > constant.before.value
    assert constant.after.spread < constant.before.spread


def test_beats_move_the_constants_toward_the_water_they_came_from(lure, beats):
    found = water_fit(with_tests(f'speed = "2 m/s"\nbeats = "{beats:.4f} ± 0.02 beats/s"'), lure)
    (across,) = [one for one in found.constants if one.name == "crossflow_drag_sideways"]
    assert across.after.low < ACROSS < across.after.high
    assert across.after.spread < across.before.spread
    assert all(abs(one.left) < 1.0 for one in found.tests)


def test_the_lines_for_a_design_can_be_read_by_it(lure):
    found = water_fit(with_tests('speed = "1.5 m/s"\npull = "60 g"\ntaped = true'), lure)
    lines = design_lines(found)
    again = parse(TEXT + "\n" + "\n".join(lines) + "\n")
    own = towing_coefficients(again.coefficients.towing)["hook_drag_coefficient"]
    assert own.value == pytest.approx(found.constants[0].after.value, rel=0.02)
    assert "4 pieces" in lines[0]
    names = [row.name for section in fit_sections(found, Shop.METRIC) for row in section.rows]
    assert names == ["fit.hook_drag_coefficient", "fit.test.1.taped"]
    assert "hook drag coefficient" in fit_headline(found)


def test_a_test_that_nothing_meets_is_told(lure):
    found = water_fit(with_tests('speed = "1.5 m/s"\npull = "2 kg ± 20 g"\ntaped = true'), lure)
    (line,) = fit_warnings(found, Shop.METRIC)
    assert "look for a slip" in line


def test_without_tests_there_is_nothing_to_fit(lure):
    with pytest.raises(NoAnswer, match=r"no \[\[dock\]\] test"):
        water_fit(parse(TEXT), lure)


@pytest.mark.parametrize(
    ("test", "words"),
    [
        ('speed = "1 kn"', "say what was seen"),
        ('speed = "1 kn"\ntaped = true\nbeats = "1 beats/s"', "does not beat"),
        ('speed = "1"\npull = "40 g"', "needs a unit"),
        ('speed = "1 kn"\npull = "40 mm"', "pull"),
    ],
)
def test_a_dock_test_that_says_nothing_or_cannot_be_is_refused(test, words):
    with pytest.raises(BadDesign, match=words):
        with_tests(test)


def test_constants_belong_to_a_family():
    assert family_of(load(EXAMPLES / "diver.toml")) == "one piece, lip"
    assert family_of(load(EXAMPLES / "glider.toml")) == "2 pieces, jointed, no lip or fin"


def test_beats_that_the_model_does_not_have_are_never_met(lure):
    """At this crawl the model tows the lure straight, whatever its constants: no count of beats can be met there."""
    beating = 'speed = "0.05 m/s"\nbeats = "40 beats/s"'
    found = water_fit(with_tests(beating, 'speed = "1.5 m/s"\npull = "60 g"\ntaped = true'), lure)
    assert [one.name for one in found.constants] == ["hook_drag_coefficient"]
    counted, pulled = found.tests
    assert counted.left is None
    assert pulled.left is not None
    shown = {row.name: row.shown for section in fit_sections(found, Shop.METRIC) for row in section.rows}
    assert shown["fit.test.1.beats"] == "cannot be told: the model does not beat there"
    assert any("could not be used" in line for line in fit_warnings(found, Shop.METRIC))
    assert fit_headline(found).startswith("1 test: hook drag")


def test_with_nothing_but_beats_that_the_model_does_not_have_there_is_no_fit(lure):
    with pytest.raises(NoAnswer, match="nothing can be fitted"):
        water_fit(with_tests('speed = "0.05 m/s"\nbeats = "6 beats/s"\npull = "5 g"'), lure)
