"""Answers kept in the log as they were told, and told again."""

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from gudgeon.cli import log_options as say
from gudgeon.cli.log_options import HERE, EntryNumber

if TYPE_CHECKING:
    from gudgeon.answers.finding import Finding
    from gudgeon.report.rows import Section
    from gudgeon.report.text import Told


def answer_command(
    entry: EntryNumber,
    shop: say.ShopFolder = HERE, as_json: say.AsJson = False, color: say.Color = "auto",
) -> None:  # fmt: skip
    """An answer that was kept, as it was told then; --keep of check and of log mend keeps one.

    \b
    Example:
      gudgeon log answer 5
    """
    from gudgeon.errors import BadShop, Fault
    from gudgeon.report.rows import Row, Section
    from gudgeon.report.text import Told, show_sections
    from gudgeon.shop.kept import told_in
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import Answer

    with Log.look(shop) as log:
        found = log.entry(entry)
    if not isinstance(found.what, Answer):
        raise BadShop("nothing can be told again", [Fault(f"entry {entry}", "keeps no answer; gudgeon log show LURE "
                                                                            "lists those kept")])  # fmt: skip
    told = told_in(found.what.told)
    sections = [Section(section.title, tuple(
        Row(row.name, row.label, row.value, row.unit, row.low, row.high, row.shown) for row in section.rows))
        for section in told.sections]  # fmt: skip
    warnings = [Told(gravity, words) for gravity, words in told.warnings]
    asked = f"{found.what.question} of lure {found.lure}, {found.done[:10]}, design {found.what.stamp}"
    warnings.append(Told("note", f"As it was told then: {asked}"))
    show_sections(sections, found.what.headline, warnings, as_json, color=color)


def kept(shop: Path, lure: int, question: str, asked: tuple[str, str],
         told: "tuple[str, Sequence[Section], Sequence[Told]]") -> "Finding":  # fmt: skip
    """What tells that an answer is kept.

    asked : the design's text, and its stamp      told : the headline, the sections, the warnings
    """
    from gudgeon.answers.saying import note
    from gudgeon.shop.kept import KeptRow, KeptSection, KeptTold, kept_text
    from gudgeon.shop.log import Log
    from gudgeon.shop.records import Answer

    headline, sections, warnings = told
    whole = KeptTold(tuple((one.gravity, one.words) for one in warnings), tuple(
        KeptSection(section.title, tuple(KeptRow(row.name, row.label, row.value, row.unit, row.low, row.high, row.shown)
                                         for row in section.rows)) for section in sections))  # fmt: skip
    with Log.open(shop) as log:
        own = log.lure(lure).pattern.design == asked[0]
        answer = Answer(question, asked[1], headline, kept_text(whole), "" if own else asked[0])
        number = log.keep(lure, answer)
    return note(f"kept as entry {number}: gudgeon log answer {number} tells it again")
