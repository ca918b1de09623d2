"""Leaders dealt out anew: not through another part where there is a way round, and never to another's number."""

import numpy as np

from gudgeon.report.balloons import Balloon, Called
from gudgeon.report.untangling import _changed_over, untangled


def balloon(x: float, mark: str, at: tuple[float, float]) -> Balloon:
    return Balloon(Called(at, mark), (x, 0.0), (x, 5.0))


def square(x: float, y: float, half: float) -> np.ndarray:
    return np.array([(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half),
                     (x - half, y - half)])  # fmt: skip


def test_a_part_behind_another_is_reached_past_it() -> None:
    near, far = square(11.0, 15.0, 3.0), square(11.0, 30.0, 3.0)
    found = untangled([balloon(10.0, "far", (11.0, 30.0)), balloon(18.0, "near", (11.0, 15.0))],
                      {(11.0, 30.0): [far], (11.0, 15.0): [near]}, ())  # fmt: skip
    by_mark = {one.called.mark: one for one in found}
    assert by_mark["near"].middle[0] == 10.0
    assert by_mark["far"].middle[0] == 18.0
    assert by_mark["far"].called.at[0] > 11.0  # on the side it comes from
    assert 27.0 <= by_mark["far"].called.at[1] <= 33.0


def test_what_stands_in_order_already_stays() -> None:
    given = [balloon(10.0, "a", (10.0, 20.0)), balloon(30.0, "b", (30.0, 20.0)), balloon(50.0, "c", (50.0, 20.0))]
    assert untangled(given, {}, ()) == tuple(given)
    assert untangled([], {}, ()) == ()


def test_leaders_that_cross_to_spare_a_part_are_changed_over() -> None:
    """The straight ways past a part in between are shorter, but cross."""
    wall = square(14.0, 12.0, 2.0)
    given = [balloon(10.0, "a", (9.0, 20.0)), balloon(18.0, "b", (19.0, 40.0))]
    found = {one.called.mark: one.middle[0] for one in untangled(given, {(14.0, 12.0): [wall]}, ())}
    assert found == {"a": 10.0, "b": 18.0}
    costs = np.array([[9.0, 1.0], [1.0, 9.0]])  # what spares a part would have the leaders cross
    where = np.array([[(10.0, 20.0), (18.0, 20.0)], [(10.0, 20.0), (18.0, 20.0)]])
    assert _changed_over(np.array([(10.0, 5.0), (18.0, 5.0)]), where, costs, [1, 0]) == [0, 1]
    assert _changed_over(np.array([(10.0, 5.0), (18.0, 5.0)]), where, 3.0 * costs, [1, 0]) == [1, 0]
