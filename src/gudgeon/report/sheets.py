"""All papers of a checked lure as one PDF: summary, templates, sections, joints, holes, work, weights, parts, law."""

import datetime
from functools import partial

from gudgeon.answers.batch_papers import BatchPapers
from gudgeon.answers.papers import Papers
from gudgeon.errors import BadQuantity
from gudgeon.report.batch_sheets import batch_sheets, card_sheets, common_words
from gudgeon.report.bench_sheets import bench_sheets
from gudgeon.report.cuts import cuts_of
from gudgeon.report.drill_card import drill_cards
from gudgeon.report.drill_sheets import drill_sheets
from gudgeon.report.exploded import exploded_sheets
from gudgeon.report.joint_sheets import joint_sheets
from gudgeon.report.paper import PaperName, Pen, Sheet, bound, frame_of
from gudgeon.report.rows import Shop
from gudgeon.report.section_sheets import section_sheets
from gudgeon.report.shopping_sheets import shopping_sheets
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
    papers: Papers, *, stamp: str, shop: Shop, paper: PaperName, correction: float = 1.0, date: datetime.date,
    batch: BatchPapers | None = None,
) -> bytes:  # fmt: skip
    """The PDF.

    stamp      : of the design file
    correction : what all that is at true scale is drawn larger by; see correction_for
    batch      : lures of this design: templates and schedules once, of its pattern, and a card for each of them
    """
    upright, lying = frame_of(paper, lying=False), frame_of(paper, lying=True)
    first = summary_sheets(papers, upright, shop, correction) if batch is None else batch_sheets(
        batch, papers.check.findings, upright, shop)  # fmt: skip
    cards = card_sheets(batch, upright, shop) if batch else ()
    note, lures = (common_words(batch, shop), len(batch.lures)) if batch else ("", 1)
    papers = batch.pattern if batch else papers
    cuts = cuts_of(papers)
    pages = [
        *first,
        *template_sheets(papers, cuts, lying, shop, correction),
        *section_sheets(papers, cuts, lying, shop, correction),
        *joint_sheets(papers, lying, shop, correction),
        *drill_sheets(papers, upright, shop, note),
        *drill_cards(papers, lying, shop, correction, is_shared=bool(note)),
        *bench_sheets(papers, upright, shop, note),
        *exploded_sheets(papers, upright, shop),
        *shopping_sheets(papers, upright, shop, lures),
        *cards,
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
    frame_and_title(pen, frame, imprint, page.title, number=number, bars=page.true_scale,
                    scale=page.scale)  # fmt: skip
