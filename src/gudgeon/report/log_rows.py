"""Rows of the shop's log: the card of a lure, entries, lists, a run, and what a check owes to the log."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from gudgeon.answers.classing import Rate
from gudgeon.answers.log_views import EntryLine, Found, LureCard, LureList, Said
from gudgeon.physics.estimate import Estimate, around
from gudgeon.report.laying import plain, rate_rows
from gudgeon.report.rows import Row, Section, Shop, row, slug, tow_row, words_row
from gudgeon.units import Measure, Reading

if TYPE_CHECKING:  # what a list of lures need not load
    from gudgeon.answers.as_weighed import AsWeighed
    from gudgeon.answers.lure_runs import LureRun

WHOLE = "whole"


@dataclass(frozen=True)
class Listed:
    """A list for the two kinds of readers: a line for each thing, and rows with a name for each of its numbers."""

    headline: str
    lines: tuple[Row, ...]
    rows: tuple[Row, ...]


def day(moment: str) -> str:
    """The day of a moment in ISO 8601."""
    return moment[:10]


def card_headline(card: LureCard) -> str:
    """Which lure it is."""
    board = f", out of {card.board}" if card.board else ""
    return (f"Lure {card.number}: {card.pattern}, version {card.version}, run {card.run}{board}, begun "
            f"{day(card.begun)}.")  # fmt: skip


def card_sections(card: LureCard, shop: Shop) -> tuple[Section, ...]:
    """The card of a lure under its titles; a title that has nothing is left out."""
    parts = (
        ("Made of", _made_of(card, shop)), ("Weights", _weights(card, shop)), ("Water displaced", _jugs(card, shop)),
        ("Ballast that is in", _ballast(card, shop)), ("Parts as weighed", _parts(card, shop)),
        ("In the water", (*_drops(card, shop), *_attitudes(card, shop))), ("Towed", _tows(card, shop)),
        ("Changed, noted, photographed", _told(card)), ("Answers kept", _answers(card)),
    )  # fmt: skip
    found = [(title, tuple(rows)) for title, rows in parts]
    return tuple(Section(title, rows) for title, rows in found if rows)


def _made_of(card: LureCard, shop: Shop) -> Iterator[Row]:
    yield words_row("lure.pattern", "pattern", card.pattern)
    yield row("lure.version", "version", float(card.version), Measure.COUNT, shop)
    yield words_row("lure.stamp", "design", card.stamp)
    yield row("lure.run", "run", float(card.run), Measure.COUNT, shop)
    if card.board:
        yield words_row("lure.board", "board", card.board)
    yield words_row("lure.begun", "begun", day(card.begun))
    if card.remark:
        yield words_row("lure.remark", "remark", card.remark)


def _at(stage: str, piece: str, fitted: tuple[str, ...] | None) -> tuple[str, str]:
    """What was measured, as the end of a row's name and as its label."""
    name, label = slug(stage), stage
    if piece != WHOLE:
        name, label = f"{name}.{slug(piece)}", f"{label}, {piece}"
    if fitted is not None:
        name, label = f"{name}.fitted", f"{label}, {len(fitted)} fitted"
    return name, label


def _known(reading: Reading) -> Estimate | float:
    return reading.value if not reading.spread else around(reading.value, reading.spread)


def _weights(card: LureCard, shop: Shop) -> Iterator[Row]:
    for entry, seen in card.weights:
        name, label = _at(seen.stage, seen.piece, seen.fitted)
        yield row(f"weight.{name}.{entry.number}", f"{entry.number}: {label}", _known(seen.mass), Measure.MASS, shop)


def _jugs(card: LureCard, shop: Shop) -> Iterator[Row]:
    for entry, seen in card.jugs:
        name, label = _at(seen.stage, seen.piece, seen.fitted)
        yield row(f"jug.{name}.{entry.number}", f"{entry.number}: {label}", _known(seen.displaced), Measure.MASS, shop)


def _ballast(card: LureCard, shop: Shop) -> Iterator[Row]:
    for entry, piece in card.ballast:
        name = f"in.{entry.number}"
        yield row(f"{name}.mass", f"{entry.number}: {piece.hole}, {piece.material}", _known(piece.mass), Measure.MASS,
                  shop)  # fmt: skip
        for key, label, size in (("at", "   from the nose", piece.station), ("depth", "   depth of the hole",
                                 piece.depth), ("bore", "   bore", piece.bore)):  # fmt: skip
            if size is not None:
                yield row(f"{name}.{key}", label, size, Measure.CUT, shop)
    if card.ballast:
        yield row("in.total", "in all", sum(piece.mass.value for _, piece in card.ballast), Measure.MASS, shop)


def _parts(card: LureCard, shop: Shop) -> Iterator[Row]:
    for entry, part in card.fittings:
        label = f"{entry.number}: {part.part}"
        yield row(f"part.{slug(part.part)}.{entry.number}", label, _known(part.mass), Measure.MASS, shop)


def _drops(card: LureCard, shop: Shop) -> Iterator[Row]:
    for entry, drop, velocity in card.drops:
        times = ", ".join(f"{time:g}" for time in drop.times)
        distance = plain(drop.distance.value, Measure.DEPTH, shop)
        yield words_row(f"drop.{entry.number}", f"{entry.number}: {drop.stage}, {'rose' if drop.rises else 'sank'}",
                        f"{distance} in {times} s")  # fmt: skip
        yield from rate_rows(f"drop.{entry.number}", Rate(velocity, "these drops do not tell"), shop, margin="   ")[1:2]


def _attitudes(card: LureCard, shop: Shop) -> Iterator[Row]:
    for entry, seen in card.attitudes:
        name = f"lies.{entry.number}"
        yield row(f"{name}.pitch", f"{entry.number}: {seen.stage}, {seen.state}, nose up", _known(seen.pitch),
                  Measure.ANGLE, shop)  # fmt: skip
        if seen.leans is not None:
            yield row(f"{name}.leans", "   leans, right side down", _known(seen.leans), Measure.ANGLE, shop)


def _tows(card: LureCard, shop: Shop) -> Iterator[Row]:
    for entry, test in card.tows:
        name = f"tow.{entry.number}"
        yield tow_row(f"{name}.speed", f"{entry.number}: towed at", _known(test.speed), shop)
        for key, label, value, measure in (
            ("beats", "beats", test.beats, Measure.BEATS), ("roll", "rolls to each side", test.roll, Measure.ANGLE),
            ("depth", "runs at", test.depth, Measure.DEPTH),
        ):  # fmt: skip
            if value is not None:
                yield row(f"{name}.{key}", f"   {label}", _known(value), measure, shop)
        mounted = [*(test.fitted or ()), *(f"{one.mass * 1e3:g} g for the {one.hook}" for one in test.stand_ins)]
        if mounted:
            yield words_row(f"{name}.mounted", "   mounted", ", ".join(mounted))
        if test.seen:
            yield words_row(f"{name}.seen", "   seen", test.seen)


def _told(card: LureCard) -> Iterator[Row]:
    for entry, change in card.changes:
        label = f"{entry.number}: changed {day(entry.done)}"
        yield words_row(f"change.{entry.number}", label, f"{change.what}. Why: {change.why}")
    for entry, note in card.notes:
        yield words_row(f"note.{entry.number}", f"{entry.number}: noted {day(entry.done)}", note.words)
    for entry, photo, file in card.photos:
        where = f"photos/{file}" if file else "the file is gone; a backup may have it"
        shows = f"{photo.shows}: " if photo.shows else ""
        yield words_row(f"photo.{entry.number}", f"{entry.number}: {photo.name}", f"{shows}{where}")


def _answers(card: LureCard) -> Iterator[Row]:
    for entry, answer in card.answers:
        label = f"{entry.number}: {answer.question} {day(entry.done)}"
        yield words_row(f"answer.{entry.number}", label, answer.headline)


def entries_listed(lines: Sequence[EntryLine], shop: Shop, headline: str) -> Listed:
    """Entries, a line each; and each as rows."""
    shown = tuple(words_row(f"entry.{line.number}", f"{line.number}", _entry_words(line, shop)) for line in lines)
    return Listed(headline, shown, tuple(found for line in lines for found in _entry_rows(line, shop)))


def entered_words(line: EntryLine, shop: Shop) -> str:
    """What was just entered, in a sentence."""
    who = f" of lure {line.lure}" if line.lure is not None else ""
    said = ", ".join(f"{one.name} {_shown(one, shop)}" for one in line.said)
    words = f"Entry {line.number}: {line.kind.replace('_', ' ')}{who}" + (f", {said}" if said else "")
    if line.struck:
        return f"{words}, strikes out entry {line.corrects}."
    return f"{words}, in the place of entry {line.corrects}." if line.corrects is not None else f"{words}."


def _entry_words(line: EntryLine, shop: Shop) -> str:
    who = f" of lure {line.lure}" if line.lure is not None else ""
    said = ", ".join(f"{one.name} {_shown(one, shop)}" for one in line.said)
    words = f"{day(line.done)}  {line.kind.replace('_', ' ')}{who}"
    words += f": {said}" if said else ""
    if line.struck:
        words += f": strikes out entry {line.corrects}"
    elif line.corrects is not None:
        words += f"; corrects entry {line.corrects}"
    if line.remark:
        words += f" ({line.remark})"
    return words if line.corrected_by is None else f"{words}; corrected by entry {line.corrected_by}"


def _shown(one: Said, shop: Shop) -> str:
    return one.value if isinstance(one.value, str) else plain(one.value, one.measure, shop)


def _entry_rows(line: EntryLine, shop: Shop) -> Iterator[Row]:
    name = f"entry.{line.number}"
    yield words_row(f"{name}.kind", "kind", line.kind)
    yield words_row(f"{name}.done", "done", line.done)
    yield words_row(f"{name}.made", "entered", line.made)
    for key, number in (("lure", line.lure), ("corrects", line.corrects), ("corrected_by", line.corrected_by)):
        if number is not None:
            yield row(f"{name}.{key}", key.replace("_", " "), float(number), Measure.COUNT, shop)
    if line.struck:
        yield words_row(f"{name}.struck", "strikes out what it corrects", "yes")
    if line.remark:
        yield words_row(f"{name}.remark", "remark", line.remark)
    for one in line.said:
        own = f"{name}.{slug(one.name)}"
        if isinstance(one.value, str):
            yield words_row(own, one.name, one.value)
        else:
            yield row(own, one.name, one.value, one.measure, shop)


def lures_listed(found: LureList, shop: Shop) -> Listed:
    """Lures, a line each, the highest number first; and each as rows."""
    lines, rows = [], []
    for line in found.lines:
        weight = f" {plain(line.mass, Measure.MASS, shop)}" if line.mass is not None else ""
        board = f", {line.board}" if line.board else ""
        at = f"{line.stage}{weight}" if line.stage else "begun"
        lines.append(words_row(f"lure.{line.number}", f"{line.number}", f"{line.pattern} {line.version}, run {line.run}"
                                                                        f"{board}: {at}"))  # fmt: skip
        name = f"lure.{line.number}"
        rows += [words_row(f"{name}.pattern", "pattern", line.pattern),
                 row(f"{name}.version", "version", float(line.version), Measure.COUNT, shop),
                 row(f"{name}.run", "run", float(line.run), Measure.COUNT, shop),
                 words_row(f"{name}.begun", "begun", day(line.begun)),
                 words_row(f"{name}.stage", "furthest stage", line.stage or "begun")]  # fmt: skip
        rows += [words_row(f"{name}.board", "board", line.board)] if line.board else []
        rows += [] if line.mass is None else [row(f"{name}.mass", "whole, then", line.mass, Measure.MASS, shop)]
    return Listed(_count_words(found), tuple(lines), tuple(rows))


def _count_words(found: LureList) -> str:
    shown = len(found.lines)
    many = f"{shown} lure{'' if shown == 1 else 's'}"
    if found.more:
        of_all = "" if found.total is None else f" of {found.total}"
        return f"{shown}{of_all} lures, the newest first; the next with --before {found.lines[-1].number}."
    return f"{many} in the log." if found.total is not None else f"{many} of that kind in the log."


def number_ranges(numbers: Sequence[int]) -> str:
    """ "1 to 12, 15": numbers in their order, those that follow each other in one."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]} to {run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)


def found_listed(found: Sequence[Found], stamp: str, shop: Shop) -> Listed:
    """What a stamp belongs to."""
    lines, rows = [], []
    for one in found:
        built = f"lures {number_ranges(one.lures)}" if one.lures else "no lure yet"
        called = f"{one.pattern}, version {one.version}"
        lines.append(words_row(f"found.{one.stamp}", one.stamp, f"{called}, of {day(one.entry.done)}: {built}"))
        rows += [words_row(f"found.{one.stamp}.pattern", "pattern", one.pattern),
                 row(f"found.{one.stamp}.version", "version", float(one.version), Measure.COUNT, shop),
                 words_row(f"found.{one.stamp}.done", "entered for", one.entry.done),
                 words_row(f"found.{one.stamp}.lures", "lures", ", ".join(str(lure) for lure in one.lures)),
                 words_row(f"found.{one.stamp}.design", "design text", one.design)]  # fmt: skip
    if not found:
        head = f"No pattern in the log has the stamp {stamp}."
    else:
        first = found[0]
        head = f"{first.stamp} is {first.pattern}, version {first.version}."
    return Listed(head, tuple(lines), tuple(rows))


def run_headline(run: "LureRun", shop: Shop) -> str:
    """The run in a sentence."""
    from gudgeon.report.shop_rows import batch_laid

    at = ", ".join(f"{count} {stage}" for stage, count in run.at)
    name = f"{run.pattern}, version {run.version}"
    if not run.lures:
        return f"{name}: no lure of it in the log."
    if run.blanks is None:
        return f"{name}, run {run.run}: {at}."
    return f"{name}, run {run.run}: {at}. {batch_laid(run.blanks, shop).headline}"


def run_sections(run: "LureRun", shop: Shop) -> tuple[Section, ...]:
    """A run's blanks with their lead, how far it has come, and the spread at each stage."""
    from gudgeon.report.shop_rows import batch_laid

    found = []
    if run.blanks is not None:
        found.append(Section("Lead for each blank", batch_laid(run.blanks, shop).rows))
    if run.at:
        rows = [row(f"run.at.{slug(stage)}", stage, float(count), Measure.COUNT, shop) for stage, count in run.at]
        found.append(Section("How far they have come", tuple(rows)))
    if run.stages:
        found.append(Section("The whole lure, stage by stage", tuple(_stage_rows(run, shop))))
    return tuple(found)


def _stage_rows(run: "LureRun", shop: Shop) -> Iterator[Row]:
    for stage in run.stages:
        name = f"run.{slug(stage.stage)}"
        yield row(f"{name}.mean", f"{stage.stage}: mean of {stage.count}", stage.mean, Measure.MASS, shop)
        yield row(f"{name}.low", "   lightest", stage.low, Measure.MASS, shop)
        yield row(f"{name}.high", "   heaviest", stage.high, Measure.MASS, shop)
        if stage.deviation is not None:
            yield row(f"{name}.scatter", "   standard deviation", stage.deviation, Measure.PART, shop)
        if stage.last_mean is not None:
            yield row(f"{name}.last_mean", "   mean of the last run", stage.last_mean, Measure.MASS, shop)
        if stage.last_deviation is not None:
            yield row(f"{name}.last_scatter", "   its standard deviation", stage.last_deviation, Measure.PART, shop)


def weighed_section(answer: "AsWeighed", shop: Shop) -> Section:
    """What a check owes to the log, and the ballast that is still missing."""
    rows = [words_row("log.lure", "lure", f"{answer.number}, {answer.pattern}"),
            words_row("log.used", "measured, and used here", "; ".join(answer.used) or "nothing yet"),
            row("log.held", "ballast in it now", answer.held, Measure.MASS, shop)]  # fmt: skip
    for need in answer.needs:
        label = f"ballast needed in all, once {need.stage}"
        rows.append(row(f"log.needed.{slug(need.stage)}", label, need.needed, Measure.MASS, shop))
    if answer.missing is not None:
        rows.append(row("log.missing", "ballast still missing", answer.missing, Measure.MASS, shop))
    return Section("From the log", tuple(rows))
