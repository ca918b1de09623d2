"""The lead for the blanks of a run is that of the batch's papers and of the check of one lure."""

import pytest

from gudgeon.answers.as_weighed import as_weighed, measured_entry
from gudgeon.answers.batch_papers import batch_papers
from gudgeon.answers.lure_runs import lure_run
from gudgeon.design.batch_list import WeighedBlank
from gudgeon.design.file import parse
from gudgeon.shop.log import Log
from gudgeon.shop.records import Jug, Weighing
from gudgeon.units import Reading

BLANKS = {1: 45.2, 2: 46.0, 3: 44.1}


def test_run_papers_and_check_tell_one_lead(twelve: Log, glider: str) -> None:
    for number, grams in BLANKS.items():
        twelve.weigh(number, Weighing("shaped", Reading(1e-3 * grams)))
    dunk = Jug("sealed", Reading(0.1105))
    twelve.jug(1, dunk)
    found = lure_run(twelve, twelve.lure(1).pattern.name).blanks
    assert found is not None
    told = {blank.number: blank.lead.value for blank in found.blanks}
    design = parse(glider)
    as_dunked = measured_entry(dunk, design)
    assert as_dunked is not None
    own = design.model_copy(update={"measured": (as_dunked,)})
    papers = batch_papers(own, [WeighedBlank(number, Reading(1e-3 * grams)) for number, grams in BLANKS.items()])
    for lure in papers.lures:
        assert told[lure.number] == pytest.approx(lure.lead, abs=5e-5)
    one = as_weighed(design, "", twelve.lure(1))
    assert told[1] == pytest.approx(one.needs[-1].needed.value, abs=2e-4)
