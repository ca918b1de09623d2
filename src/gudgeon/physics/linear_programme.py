"""A linear programme, some of its unknowns whole numbers, handed to HiGHS.

Straight to HiGHS: scipy's way to the same solver takes four times as long on programmes as small as ours, and 0.3 s to
load.
"""

import highspy
import numpy as np
from numpy.typing import NDArray

from gudgeon.physics.spread import Array

_FOUND = (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kTimeLimit)


def least_cost(cost: Array, bounds: tuple[Array, Array], limits: tuple[Array, Array, Array], *,
               whole: NDArray[np.bool_], gap: float, seconds: float) -> Array | None:  # fmt: skip
    """The x (n,) of least cost @ x; None where there is none, or none was found in time.

    cost    : (n,)
    bounds  : (n,) least, (n,) most
    limits  : matrix (m, n), low (m,), high (m,) with low <= matrix @ x <= high
    whole   : (n,) which unknowns are whole numbers
    gap     : share of the cost by which a whole-number answer may be short of the best; no other is
    seconds : after which the search ends with the best so far
    """
    matrix, low, high = limits
    programme = highspy.HighsLp()
    programme.num_row_, programme.num_col_ = matrix.shape
    programme.col_cost_ = cost
    programme.col_lower_, programme.col_upper_ = bounds
    programme.row_lower_, programme.row_upper_ = low, high
    row, column = np.nonzero(matrix)
    entries = programme.a_matrix_
    entries.format_ = highspy.MatrixFormat.kRowwise
    entries.num_row_, entries.num_col_ = matrix.shape
    entries.start_ = np.searchsorted(row, np.arange(len(low) + 1)).astype(np.int32)
    entries.index_, entries.value_ = column.astype(np.int32), matrix[row, column]
    solver = highspy.Highs()  # type: ignore[no-untyped-call]
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("time_limit", seconds)
    if whole.any():
        kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
        programme.integrality_ = [kinds[int(is_whole)] for is_whole in whole]
        solver.setOptionValue("mip_rel_gap", gap)
    else:
        solver.setOptionValue("presolve", "off")  # takes longer than such a programme itself
    solver.passModel(programme)
    solver.run()
    solution = solver.getSolution()
    if solver.getModelStatus() not in _FOUND or not solution.value_valid:
        return None
    return np.array(solution.col_value)
