"""All papers of a checked lure as one PDF: summary, templates, sections, holes and order of work, weights, cautions."""

import datetime
from functools import partial

from gudgeon.answers.papers import Papers
from gudgeon.errors import BadQuantity
from gudgeon.report.bench_sheets import bench_sheets
from gudgeon.report.cuts import cuts_of
from gudgeon.report.drill_sheets import drill_sheets
from gudgeon.report.paper import PaperName, Pen, Sheet, bound, frame_of
from gudgeon.report.rows import Shop
from gudgeon.report.section_sheets import section_sheets
from gudgeon.report.summary_sheets import summary_sheets
from gudgeon.report.templates import template_sheets
from gudgeon.report.title_block import Imprint, frame_and_title

BAR = 0.1  # m
_LEAST_BAR, _MOST_BAR = 0.085, 0.115  # m; a printer further off than that was told to fit the page


def correction_for(measured: float) -> float:
    """How much larger to draw for a printer whose 100 mm bar measures `measured` [m].

    raises : BadQuantity where that is no printer's error
    """
    if not _LEAST_BAR <= measured <= _MOST_BAR:
        raise BadQuantity(
            f"a 100 mm bar that measures {1e3 * measured:.1f} mm was printed to fit a page, or is the wrong bar; print "
            f"at 100 % and measure again (from {1e3 * _LEAST_BAR:.0f} to {1e3 * _MOST_BAR:.0f} mm can be put right)"
        )
    return BAR / measured


def sheets(
    papers: Papers, *, stamp: str, shop: Shop, paper: PaperName, correction: float = 1.0, date: datetime.date
) -> bytes:
    """The PDF.

    stamp      : of the design file
    correction : what all that is at true scale is drawn larger by; see correction_for
    """
    upright, lying = frame_of(paper, lying=False), frame_of(paper, lying=True)
    cuts = cuts_of(papers)
    pages = [
        *summary_sheets(papers, upright, shop, correction),
        *template_sheets(papers, cuts, lying, shop, correction),
        *section_sheets(papers, cuts, lying, shop, correction),
        *drill_sheets(papers, upright, shop),
        *bench_sheets(papers, upright, shop),
    ]
    imprint = Imprint(papers.check.design.name, stamp, shop, date, correction)
    framed = [
        Sheet(page.title, page.true_scale, partial(_framed, page, paper, imprint, (place, len(pages))))
        for place, page in enumerate(pages, start=1)
    ]
    return bound(framed, paper, title=f"{papers.check.design.name}, {stamp}")


def _framed(page: Sheet, paper: PaperName, imprint: Imprint, number: tuple[int, int], pen: Pen) -> None:
    page.draw(pen)
    frame = frame_of(paper, lying=page.true_scale)
    frame_and_title(pen, frame, imprint, page.title, number=number, bars=page.true_scale)
