"""Pooling, held against the conjugate closed form, against numbers drawn by the same rules, and against slips."""

import math

import numpy as np
import pytest
from numpy.random import Generator, default_rng
from scipy.stats import norm

from gudgeon.physics.pooling import Book, Mixture, Pooled, pooled
from gudgeon.physics.spread import Estimate

WOOD = Book(value=0.0, deviation=0.10, between=0.10, within=0.025)
ERROR = 0.01
RUNS = 200


def shop(rng: Generator, boards: int, blanks: int, constants: tuple[float, float, float], shared: float = 0.0
         ) -> tuple[list[float], list[int], list[float]]:  # fmt: skip
    """Records of an invented shop, which board each is of, and the boards' true means.

    constants : mean of all, scatter between boards, scatter within one
    """
    mean, between, within = constants
    true = rng.normal(mean, between, boards)
    groups = np.repeat(np.arange(boards), blanks)
    records = true[groups] + rng.normal(0.0, math.hypot(within, ERROR), len(groups)) + rng.normal(0.0, shared)
    return records.tolist(), groups.tolist(), true.tolist()


def learned(records: list[float], groups: list[int], book: Book = WOOD) -> Pooled:
    return pooled(records, [ERROR] * len(records), groups, book)


def holds(known: Estimate, true: float) -> bool:
    return known.low < true < known.high


def test_nothing_measured_leaves_the_book() -> None:
    known = pooled([], [], [], WOOD)
    assert known.groups == ()
    assert known.middle.mean == pytest.approx(0.0, abs=1e-12)
    assert known.middle.deviation == pytest.approx(0.10)
    variance = 0.10**2 * 4.0 / (4.0 - 2.0)  # of a half-t of four degrees, about nothing
    assert known.between**2 == pytest.approx(variance, rel=0.05)
    assert known.fresh.deviation == pytest.approx(math.hypot(0.10, known.between))


def test_without_scatter_it_is_the_weighted_mean_of_records_and_book() -> None:
    known = pooled([0.08, 0.11], [0.02, 0.04], [0, 0], Book(0.0, 0.1, 0.0, 0.0))
    weights = [1 / 0.1**2, 1 / 0.02**2, 1 / 0.04**2]
    mean = (weights[1] * 0.08 + weights[2] * 0.11) / sum(weights)
    assert known.middle.mean == pytest.approx(mean, rel=1e-2)  # records count 99.8 %, for they may be slips
    assert known.middle.deviation == pytest.approx(sum(weights) ** -0.5, rel=1e-2)
    assert known.groups[0].mean == pytest.approx(known.middle.mean)


def test_the_grid_agrees_with_a_sum_over_one_ten_times_finer() -> None:
    """Two groups of two records; the plain sum over both scatters and over the mean, normals worked out at each."""
    records, groups = np.array([0.05, 0.07, -0.04, -0.01]), [0, 0, 1, 1]
    known = pooled(records.tolist(), [0.01] * 4, groups, WOOD)
    scatters = np.linspace(1e-4, 1.5, 1500), np.linspace(1e-4, 0.3, 600)
    between, within = (scatter[:, None] if place == 0 else scatter[None, :] for place, scatter in enumerate(scatters))
    noise = within**2 + 0.01**2
    prior = (1 + (between / 0.1) ** 2 / 4) ** -2.5 * (1 + (within / 0.025) ** 2 / 4) ** -2.5
    apart = np.array([0.02, 0.03])
    inside = np.prod([norm.pdf(gap, 0.0, np.sqrt(2 * noise)) for gap in apart], axis=0)
    spread, means = between**2 + noise / 2, records.reshape(2, 2).mean(axis=1)
    total = 2 / spread + 1 / 0.1**2
    middle = means.sum() / spread / total
    outside = np.exp(-0.5 * ((means**2).sum() / spread - total * middle**2)) / (spread * np.sqrt(total))
    weights = prior * inside * outside
    weights /= weights.sum()
    assert known.middle.mean == pytest.approx(float((weights * middle).sum()), abs=2e-4)
    deviation = math.sqrt(float((weights * (1 / total + middle**2)).sum()) - known.middle.mean**2)
    assert known.middle.deviation == pytest.approx(deviation, rel=0.01)
    assert known.between == pytest.approx(math.sqrt(float((weights * between**2).sum())), rel=0.03)


def test_quantiles_of_a_mixture() -> None:
    one = Mixture(np.ones(1), np.array([2.0]), np.array([0.5]))
    assert one.range(0.95).high == pytest.approx(2.0 + 0.5 * norm.ppf(0.975), abs=1e-7)
    two = Mixture(np.array([0.5, 0.5]), np.array([-1.0, 1.0]), np.array([0.1, 0.1]))
    assert two.quantiles([0.25, 0.75]).tolist() == pytest.approx([-1.0, 1.0], abs=1e-7)
    assert two.deviation == pytest.approx(math.hypot(1.0, 0.1))


@pytest.mark.parametrize(("boards", "blanks"), [(1, 1), (2, 1), (2, 5), (6, 5), (20, 3)])
def test_the_true_value_lies_in_the_range_as_often_as_it_says(boards: int, blanks: int) -> None:
    """Invented shops whose constants lie about the book's as the book says: 90 % ranges hold 85 to 95 % of the time."""
    rng = default_rng(boards * 100 + blanks)
    hits = np.zeros(3)
    for _ in range(RUNS):
        scatters = np.abs(rng.standard_t(4.0, 2)) * (WOOD.between, WOOD.within)
        constants = (rng.normal(0.0, WOOD.deviation), *scatters.tolist())
        records, groups, true = shop(rng, boards, blanks, constants)
        known = learned(records, groups)
        next_board = rng.normal(constants[0], constants[1])
        asked = ((known.middle, constants[0]), (known.groups[0], true[0]), (known.fresh, next_board))
        hits += [holds(one.range(0.90), value) for one, value in asked]
    assert (hits >= 0.85 * RUNS).all()
    assert (hits <= 0.95 * RUNS).all()


@pytest.mark.parametrize("constants", [(0.08, 0.06, 0.03), (-0.12, 0.10, 0.05), (0.05, 0.12, 0.02)])
def test_so_it_does_for_one_shop_with_known_constants(constants: tuple[float, float, float]) -> None:
    """The same shop begun 200 times, eight boards of four blanks each."""
    rng = default_rng(8)
    hits = 0
    for _ in range(RUNS):
        records, groups, _ = shop(rng, 8, 4, constants)
        hits += holds(learned(records, groups).middle.range(0.90), constants[0])
    assert 0.85 * RUNS <= hits <= 0.95 * RUNS


def test_an_error_that_all_records_share_does_not_average_out() -> None:
    book = Book(0.0, 0.10, 0.05, 0.02, shared=0.03)
    rng = default_rng(5)
    hits = np.zeros(2)
    for _ in range(RUNS):
        mean = rng.normal(0.0, book.deviation)
        scatters = (np.abs(rng.standard_t(4.0, 2)) * (book.between, book.within)).tolist()
        records, groups, true = shop(rng, 10, 6, (mean, *scatters), book.shared)
        known = learned(records, groups, book)
        assert known.middle.deviation > 0.9 * book.shared
        hits += [holds(known.middle.range(0.90), mean), holds(known.groups[3].range(0.90), true[3])]
    assert (hits >= 0.85 * RUNS).all()
    assert (hits <= 0.95 * RUNS).all()


def test_two_records_leave_a_wide_range_and_forty_a_narrow_one() -> None:
    rng = default_rng(11)
    wide, narrow = [], []
    for _ in range(20):
        records, groups, _ = shop(rng, 20, 2, (0.08, 0.06, 0.03))
        narrow.append(learned(records, groups).middle.range(0.90).spread)
        wide.append(learned(records[::20], [0, 1]).middle.range(0.90).spread)
    assert min(wide) > 2.0 * max(narrow)
    assert min(wide) > 0.05  # the book alone leaves 0.164


@pytest.mark.parametrize(("boards", "blanks", "slip"), [
    (6, 5, math.log(1.3)), (6, 5, -math.log(10.0)), (1, 20, math.log(1.3)), (8, 1, math.log(2.0)),
    (8, 1, math.log(28.35)), (3, 1, math.log(10.0)),
])  # fmt: skip
def test_one_gross_slip_does_not_move_it(boards: int, blanks: int, slip: float) -> None:
    """Less than a third of its spread from where it stands without that record; 30 % off, doubled, ounces for grams."""
    rng = default_rng(3)
    for _ in range(25):
        records, groups, _ = shop(rng, boards, blanks, (0.05, 0.06, 0.03))
        spoilt = [*records, records[-1] + slip]
        without = learned(records, groups)
        known = learned(spoilt, [*groups, groups[-1] if blanks > 1 else boards])
        for before, after in ((without.middle, known.middle), (without.groups[0], known.groups[0])):
            was = before.range(0.95)
            assert abs(after.range(0.95).value - was.value) < was.spread / 3.0
        assert known.counted[-1] < 0.5
        assert (known.counted[:-1] > 0.5).mean() > 0.8


def test_boards_that_truly_differ_are_not_taken_for_slips() -> None:
    """Several blanks of one board bear each other out, however far the board is from the others."""
    records = [0.01, 0.02, 0.0, 0.03, -0.01, 0.02, 0.45, 0.47, 0.44]
    known = learned(records, [0, 0, 0, 1, 1, 1, 2, 2, 2])
    assert (known.counted > 0.5).all()
    assert known.groups[2].mean == pytest.approx(0.45, abs=0.02)


def test_a_board_with_few_blanks_leans_on_the_others() -> None:
    records, groups = [0.0, 0.01, 0.02, -0.01, 0.005, 0.1], [0, 1, 2, 3, 4, 5]
    known = learned(records, groups)
    alone = learned([0.1], [0])
    assert 0.03 < known.groups[5].mean < alone.groups[0].mean < 0.1


def test_the_order_of_the_records_does_not_matter() -> None:
    rng = default_rng(2)
    records, groups, _ = shop(rng, 4, 5, (0.05, 0.06, 0.03))
    order = rng.permutation(len(records)).tolist()
    one, other = learned(records, groups), learned([records[i] for i in order], [groups[i] for i in order])
    assert other.middle.mean == pytest.approx(one.middle.mean, abs=1e-9)
    assert other.counted.tolist() == pytest.approx(one.counted[order].tolist(), abs=1e-9)
