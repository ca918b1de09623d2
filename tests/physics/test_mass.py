"""The ledger against sums done by hand: which items are on, first moments, first-order effects, inertia."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.physics.mass import COLUMNS, MASS, MASS_X, VOLUME, Effect, Item, Sums, ledger
from gudgeon.physics.spread import nothing_measured

WOOD = Item("wood, head", "wood", 0, 0.030, (0.03, 0.0, 0.001), 70e-6, (0.031, 0.0, 0.0), 0,
            (Effect("density", mass=0.003), Effect("drawing", mass=0.001, displaced=3e-6)))  # fmt: skip
HOLE = Item("hole", "hole", 0, -0.001, (0.05, 0.0, -0.01), 0.0, (0.05, 0.0, -0.01), 1, (Effect("density", -1e-4),))
LEAD = Item("ballast", "ballast", 1, 0.020, (0.06, 0.0, -0.012), 0.0, (0.06, 0.0, -0.012), 3,
            (Effect("place", shift=(0.001, 0.0, 0.0)),))  # fmt: skip
HOOK = Item("hook", "hook", 1, 0.004, (0.09, 0.002, -0.02), 0.5e-6, (0.09, 0.002, -0.02), 5,
            (Effect("hook", 0.0005, 6e-8, (0.0, 0.0, 0.001), (0.0, 0.0, 0.001)),))  # fmt: skip
FIN = Item("fin", "fin", 1, 0.001, (0.12, 0.0, 0.0), 0.8e-6, (0.12, 0.0, 0.0), 5)
ALL = ledger([WOOD, HOLE, LEAD, HOOK, FIN], ("drawing",))


def names(**asked: object) -> set[str]:
    mask = ALL.chosen(**asked)  # type: ignore[arg-type]
    return {item.name for item, on in zip(ALL.items, mask, strict=True) if on}


def test_sources_keep_the_order_they_are_given_and_then_met() -> None:
    assert ALL.sources == ("drawing", "density", "place", "hook")


def test_what_is_on_at_each_step() -> None:
    assert names(step=0) == {"wood, head"}
    assert names(step=1) == {"wood, head", "hole"}
    assert names(step=4) == {"wood, head", "hole", "ballast"}
    assert names(step=5) == {"wood, head", "hole", "ballast", "hook", "fin"}
    assert names(step=5, segment=1) == {"ballast", "hook", "fin"}


def test_what_is_named_as_fitted_is_on_and_nothing_else_of_its_kind() -> None:
    assert names(step=5, fitted=["hook"]) == {"wood, head", "hole", "ballast", "hook"}
    assert names(step=5, fitted=[]) == {"wood, head", "hole", "ballast"}


def test_fittings_hung_on_early_do_not_bring_later_steps_with_them() -> None:
    """A lure weighed when drilled, its hook hung on already: no ballast is in yet."""
    assert names(step=1, fitted=["hook"]) == {"wood, head", "hole", "hook"}
    assert names(step=0, fitted=[]) == {"wood, head"}


def test_sums_and_centres() -> None:
    total = Sums(ALL.sums(ALL.chosen(step=5)))
    assert total.mass == pytest.approx(0.054)
    assert total.volume == pytest.approx(71.3e-6)
    x = (0.030 * 0.03 - 0.001 * 0.05 + 0.020 * 0.06 + 0.004 * 0.09 + 0.001 * 0.12) / 0.054
    assert total.weight_centre[0] == pytest.approx(x)
    assert total.buoyancy_centre[0] == pytest.approx((70 * 0.031 + 0.5 * 0.09 + 0.8 * 0.12) / 71.3)
    assert total.weight_centre[1] == pytest.approx(0.004 * 0.002 / 0.054)


@given(st.lists(st.floats(-1e-4, 1e-4), min_size=8, max_size=8))
@settings(max_examples=30, deadline=None)
def test_an_effect_is_the_first_order_change_of_the_sums(parts: list[float]) -> None:
    change = Effect("any", parts[0], parts[1] * 1e-3, (parts[2], parts[3], parts[4]), (parts[5], parts[6], parts[7]))

    def moved(share: float) -> np.ndarray:
        place = tuple(a + share * b for a, b in zip(HOOK.place, change.shift, strict=True))
        lift = tuple(a + share * b for a, b in zip(HOOK.lift, change.lift, strict=True))
        mass, displaced = HOOK.mass + share * change.mass, HOOK.displaced + share * change.displaced
        item = Item("hook", "hook", 1, mass, place, displaced, lift, 5)
        return np.array(item.sums())

    assert HOOK.effect_sums(change) == pytest.approx(0.5 * (moved(1.0) - moved(-1.0)), rel=1e-9, abs=1e-15)


def test_effects_of_one_source_on_several_items_add_up() -> None:
    table = ALL.effects(ALL.chosen(step=5))
    assert table.shape == (4, COLUMNS)
    assert table[ALL.sources.index("density"), MASS] == pytest.approx(0.003 - 1e-4)
    assert table[ALL.sources.index("density"), MASS_X] == pytest.approx(0.003 * 0.03 - 1e-4 * 0.05)
    assert table[ALL.sources.index("place"), MASS_X] == pytest.approx(0.020 * 0.001)
    assert table[ALL.sources.index("place"), MASS] == 0.0


def test_items_as_now_known() -> None:
    known = nothing_measured(ALL.sources).given(np.array([0.0, 1.0, 0.0, 0.0]), 0.5, 0.0)
    masses, volumes = ALL.item_masses(known)
    assert masses[:2] == pytest.approx([0.0315, -0.00105])
    assert volumes[0] == pytest.approx(70e-6)
    assert ALL.expected(ALL.chosen(step=1), known)[MASS] == pytest.approx(0.03045)


def test_inertia_of_a_box_and_a_point() -> None:
    """A box of its own inertia and a point away from it: parallel axes."""
    a, b, c, m, p = 0.12, 0.02, 0.04, 0.05, 0.02
    own = ((a * a / 12, 0.0, 0.0), (0.0, b * b / 12, 0.0), (0.0, 0.0, c * c / 12))
    box = Item("box", "wood", 0, m, (0.06, 0.0, 0.0), 0.0, (0.06, 0.0, 0.0), 0, spread_out=own)
    point = Item("point", "ballast", 0, p, (0.09, 0.01, -0.01), 0.0, (0.0, 0.0, 0.0), 0)
    both = ledger([box, point])
    found = both.inertia(both.chosen(step=0))
    arm = np.array([0.03, 0.01, -0.01])
    reduced = m * p / (m + p)
    box_tensor = m / 12 * np.diag([b * b + c * c, a * a + c * c, a * a + b * b])
    wanted = box_tensor + reduced * (arm @ arm * np.eye(3) - np.outer(arm, arm))
    assert found == pytest.approx(wanted, rel=1e-12, abs=1e-15)


def test_a_piece_less_its_hole_is_the_smaller_piece() -> None:
    """A rod with its far half taken away as a negative item has the mass, centre and inertia of the near half."""
    length, mass = 0.2, 0.1

    def rod(start: float, stop: float, sign: float) -> Item:
        span, middle = stop - start, 0.5 * (start + stop)
        own = ((span * span / 12, 0.0, 0.0), (0.0, 0.0, 0.0), (0.0, 0.0, 0.0))
        return Item("rod", "wood", 0, sign * mass * span / length, (middle, 0.0, 0.0), 0.0, (middle, 0.0, 0.0), 0,
                    spread_out=own)  # fmt: skip

    cut, half = ledger([rod(0.0, length, 1.0), rod(0.1, length, -1.0)]), ledger([rod(0.0, 0.1, 1.0)])
    assert cut.sums(cut.chosen(step=0)) == pytest.approx(half.sums(half.chosen(step=0)), abs=1e-15)
    assert cut.inertia(cut.chosen(step=0)) == pytest.approx(half.inertia(half.chosen(step=0)), rel=1e-9, abs=1e-15)


def test_no_items_weigh_nothing() -> None:
    nothing = ALL.sums(np.zeros(5, dtype=bool))
    assert (nothing == 0.0).all()
    assert nothing[VOLUME] == 0.0
