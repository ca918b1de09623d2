"""Constants fitted to tests at the water, as rows and as the lines that go into a design."""

from gudgeon.answers.water_fit import FittedConstant, TestFit, WaterFit
from gudgeon.physics.spread import Estimate
from gudgeon.report.rows import Measure, Row, Section, Shop, row, slug, spread_words, tow_speed, words_row

SMALL_PRINT = (
    "Nothing is changed by this: put the lines into the design, or into those of lures of the same family, to use "
    "them. The ranges hold about 19 times in 20 if the model is right to a twentieth apart from these constants."
)
_OF = {"beats": "beats", "pull": "pull", "taped": "pull, joints taped", "lists": "first list"}
_FAR = 1.0  # half-widths


def fit_sections(found: WaterFit, shop: Shop) -> tuple[Section, ...]:
    """The constants, then how well each test is met."""
    constants = tuple(_constant(one) for one in found.constants)
    tests = tuple(_test(number, one, shop) for number, one in enumerate(found.tests, start=1))
    return Section(f"Constants for {found.family}", constants), Section("How the tests are met", tests)


def fit_headline(found: WaterFit) -> str:
    """What moved most."""
    most = max(found.constants, key=lambda one: abs(one.after.value - one.before.value) / max(one.before.spread, 1e-30))
    count = sum(one.left is not None for one in found.tests)
    return (f"{count} {'test' if count == 1 else 'tests'}: {_plain(most.name)} {_shown(most.after)}, "
            f"where the table has {_shown(most.before)}.")  # fmt: skip


def fit_warnings(found: WaterFit, shop: Shop) -> tuple[str, ...]:
    """Tests that no constants within their ranges meet."""
    untold = [one for one in found.tests if one.left is None]
    far = [(one, abs(one.left)) for one in found.tests if one.left is not None and abs(one.left) > _FAR]
    return (
        *(f"The {_OF[one.of]} at {tow_speed(one.test.speed, shop)} could not be used: the model does not beat there. "
          "Nothing is fitted to it." for one in untold),
        *(f"The {_OF[one.of]} at {tow_speed(one.test.speed, shop)} is {times:.1f} times its ± away from the fitted "
          "model: look for a slip, or trust the fit less." for one, times in far),
    )  # fmt: skip


def design_lines(found: WaterFit) -> tuple[str, ...]:
    """The lines of a design that hold the constants."""
    lines = [f'{one.name} = "{_shown(one.after)}"' for one in found.constants]  # all of them plain numbers
    return (f"[coefficients]  # fitted on {found.design.name}: {found.family}", *lines)


def _plain(name: str) -> str:
    return name.replace("_", " ")


def _shown(value: Estimate) -> str:
    """ "0.62 ± 0.13", even where the range leans."""
    half = 0.5 * (value.high - value.low)
    return spread_words(value.value, value.value - half, value.value + half, 4)


def _constant(one: FittedConstant) -> Row:
    label = f"{_plain(one.name)}, the table's {_shown(one.before)}"
    return row(f"fit.{one.name}", label, one.after, Measure.NUMBER, Shop.METRIC)


def _test(number: int, one: TestFit, shop: Shop) -> Row:
    label = f"{_OF[one.of]} at {tow_speed(one.test.speed, shop)}"
    name = f"fit.test.{number}.{slug(one.of)}"
    if one.left is None:
        return words_row(name, label, "cannot be told: the model does not beat there")
    how = "met" if abs(one.left) <= _FAR else "not met"
    side = "more" if one.left > 0.0 else "less"
    told = f"{how}: seen {abs(one.left):.1f} of its ± {side} than the fitted model has it"
    return words_row(name, label, told)
