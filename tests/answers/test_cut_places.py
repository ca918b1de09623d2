"""Where cuts may go: the maker's own first, habits at their shares, and out of the way of hooks and bores."""

from itertools import pairwise
from pathlib import Path

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.cut_places import ROOM, cut_places
from gudgeon.design.file import load
from gudgeon.errors import NoAnswer
from gudgeon.report.joint_rows import cut_headline, cut_rows, cut_warnings
from gudgeon.report.rows import Shop

EXAMPLE = Path(__file__).parents[2] / "examples" / "lanternmere.toml"


@pytest.fixture(scope="module")
def design():
    return load(EXAMPLE)


@pytest.fixture(scope="module")
def lure(design):
    return assemble(design)


@pytest.fixture(scope="module")
def bare(design):
    """Nothing in the way."""
    return design.model_copy(update={"fittings": (), "hooks": (), "pockets": (), "fin": None})


def by_name(proposals):
    return {proposal.habit: proposal for proposal in proposals}


def test_the_makers_own_places_come_first(design, lure):
    first = cut_places(design, lure, 4)[0]
    assert first.habit == "as drawn"
    assert [cut.at for cut in first.cuts] == [joint.at for joint in design.joints]
    assert all(cut.low == cut.high == cut.at for cut in first.cuts)
    assert "as drawn" not in by_name(cut_places(design, lure, 3))


def test_even_thirds_cut_a_third_back_and_halve_the_rest(bare, lure):
    cuts = by_name(cut_places(bare, lure, 3))["even thirds"].cuts
    assert [cut.at for cut in cuts] == pytest.approx([0.080, 0.160])


@pytest.mark.parametrize(("pieces", "shares"), [
    (2, [(0.50, 0.58)]), (3, [(0.42, 0.46), (0.70, 0.74)]), (4, [(0.35, 0.38), (0.58, 0.62), (0.80, 0.82)]),
])  # fmt: skip
def test_the_usual_places_are_the_trades_shares(bare, lure, pieces, shares):
    cuts = by_name(cut_places(bare, lure, pieces))["usual"].cuts
    for cut, (low, high) in zip(cuts, shares, strict=True):
        assert (cut.low, cut.high) == pytest.approx((0.24 * low, 0.24 * high))
        assert cut.at == pytest.approx(0.12 * (low + high))
        assert cut.moved == pytest.approx(0.0)


@pytest.mark.parametrize(("pieces", "least", "most"), [(2, 0.75, 0.9), (3, 0.75, 0.9), (4, 0.75, 0.9), (5, 0.9, 0.95)])
def test_shrinking_pieces_shrink_within_their_range(bare, lure, pieces, least, most):
    lengths = by_name(cut_places(bare, lure, pieces))["shrinking"].pieces
    assert sum(lengths) == pytest.approx(0.24)
    assert all(least - 0.02 < after / before < most + 0.02 for before, after in pairwise(lengths))


@pytest.mark.parametrize("pieces", [2, 3, 4, 5])
def test_every_proposal_has_its_pieces_in_range_and_order(design, lure, pieces):
    for proposal in cut_places(design, lure, pieces):
        assert len(proposal.pieces) == pieces
        assert all(length > 0.0 for length in proposal.pieces)
        assert all(cut.low - 1e-9 <= cut.at <= cut.high + 1e-9 for cut in proposal.cuts)
        assert proposal.extra == pytest.approx((pieces - 1) * 0.00635)
        assert proposal.reasons


def test_a_cut_moves_out_of_a_hooks_way_but_stays_in_its_range(design, bare, lure):
    hook = design.hooks[0].model_copy(update={"at": 0.104})
    crowded = bare.model_copy(update={"hooks": (hook,)})
    cut = by_name(cut_places(crowded, lure, 3))["usual"].cuts[0]
    assert cut.at > 0.1056
    assert cut.at <= cut.high
    assert cut.ahead == "the front hook"
    assert cut.room_ahead == pytest.approx(min(cut.high - 0.107, ROOM), abs=6e-4)


def test_a_cut_in_a_bore_is_told(design, bare, lure):
    pocket = design.pockets[0].model_copy(update={"at": 0.080, "name": "keel"})
    proposals = cut_places(bare.model_copy(update={"pockets": (pocket,)}), lure, 3)
    assert not by_name(proposals)["even thirds"].cuts[0].has_room
    told = cut_warnings(proposals, Shop.METRIC)
    assert any("cut 1 runs into bore 'keel'" in line for line in told)


def test_depth_lost_is_of_the_deepest(bare, lure):
    cut = by_name(cut_places(bare, lure, 3))["even thirds"].cuts[1]
    depth = float(lure.hull.back([cut.at])[0] - lure.hull.belly([cut.at])[0])
    assert cut.depth_lost == pytest.approx(1 - depth / lure.depth)


@pytest.mark.parametrize("pieces", [0, 1, 6])
def test_other_numbers_of_pieces_are_refused(design, lure, pieces):
    with pytest.raises(NoAnswer, match=f"{pieces} pieces: ask for 2 to 5"):
        cut_places(design, lure, pieces)


def test_rows_are_named_once_and_the_headline_tells_the_first(design, lure):
    proposals = cut_places(design, lure, 4)
    names = [row.name for row in cut_rows(proposals, Shop.METRIC)]
    assert len(names) == len(set(names))
    assert "cuts.even_thirds.2" in names
    assert cut_headline(proposals, Shop.METRIC) == "Your own places: cut at 86 mm, 144 mm and 194 mm from the nose."
