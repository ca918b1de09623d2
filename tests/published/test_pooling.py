"""The eight schools: the example that the hierarchical normal model is taught with."""

import pytest

from gudgeon.physics.pooling import Book, Mixture, Pooled, pooled

EFFECTS = (28.39, 7.94, -2.75, 6.82, -0.64, 0.63, 18.01, 12.16)
ERRORS = (14.9, 10.2, 16.3, 11.0, 9.4, 11.4, 10.4, 17.6)
SHARES = (0.025, 0.25, 0.5, 0.75, 0.975)
PRINTED = {
    "A": (-2, 7, 10, 16, 31), "B": (-5, 3, 8, 12, 23), "C": (-11, 2, 7, 11, 19), "D": (-7, 4, 8, 11, 21),
    "E": (-9, 1, 5, 10, 18), "F": (-7, 2, 6, 10, 28), "G": (-1, 7, 10, 15, 26), "H": (-6, 3, 8, 13, 33),
}  # fmt: skip
FLAT = Book(0.0, 1e3, 1e3, 0.0)
"""Nothing known of the mean nor of the scatter between schools, which is uniform over all that matters."""


@pytest.fixture(scope="module")
def schools() -> Pooled:
    return pooled(EFFECTS, ERRORS, range(8), FLAT)


@pytest.mark.source("Gelman, Carlin, Stern, Dunson, Vehtari, Rubin, Bayesian Data Analysis, 3rd edition (2013)",
                    where="table 5.3, quantiles of 200 draws, from memory; data of Rubin, Journal of Educational "
                    "Statistics 6 (1981) 377-401, table 1, as two public packages of data have them")  # fmt: skip
@pytest.mark.parametrize("place", range(8), ids=list(PRINTED))
def test_each_school(schools: Pooled, place: int) -> None:
    """Two hundred draws tell a quartile to about 0.6, and the 2.5 % ends, five draws out, only to some points."""
    printed = list(PRINTED.values())[place]
    found = schools.groups[place].quantiles(SHARES).tolist()
    assert found[1:4] == pytest.approx(printed[1:4], abs=1.6)
    assert found[0] == pytest.approx(printed[0], abs=3.0)
    assert found[4] == pytest.approx(printed[4], abs=9.5)


@pytest.mark.source("Gelman, Carlin, Stern, Dunson, Vehtari, Rubin, Bayesian Data Analysis, 3rd edition (2013)",
                    where="section 5.5: pooled estimate 7.7, standard error 4.1, from memory")  # fmt: skip
def test_all_schools_alike() -> None:
    alike = pooled((28.0, 8.0, -3.0, 7.0, -1.0, 1.0, 18.0, 12.0), (15.0, 10.0, 16.0, 11.0, 9.0, 11.0, 10.0, 18.0),
                   range(8), Book(0.0, 1e3, 0.0, 0.0))  # fmt: skip
    assert alike.middle.mean == pytest.approx(7.7, abs=0.05)
    assert alike.middle.deviation == pytest.approx(4.1, abs=0.05)
    known: Mixture = alike.groups[0]
    assert known.mean == pytest.approx(alike.middle.mean)
