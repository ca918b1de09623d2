"""The record card of a lure: all that stands about it, the lure drawn as it is, and its picture."""

from dataclasses import dataclass

from gudgeon.answers.as_weighed import as_measured
from gudgeon.answers.check import check
from gudgeon.answers.log_views import LureCard, lure_card
from gudgeon.answers.papers import Papers, papers
from gudgeon.design.model import Design
from gudgeon.errors import BadShop, Fault, Refusal
from gudgeon.shop.entries import LureRecord
from gudgeon.shop.log import Log
from gudgeon.shop.photos import content_of
from gudgeon.shop.records import Ballast, Photo


@dataclass(frozen=True)
class CardPicture:
    """A photograph of the log; content is None where its file is gone."""

    entry: int
    name: str
    shows: str
    content: bytes | None


@dataclass(frozen=True)
class RecordCard:
    """A lure on paper.

    drawn   : as it was built, with what was measured of it; None where that cannot be drawn
    undrawn : why not, in words
    holes   : pocket -> numbers of the entries of the ballast in it
    picture : None where there is none
    """

    card: LureCard
    drawn: Papers | None
    undrawn: str
    holes: dict[str, tuple[int, ...]]
    picture: CardPicture | None


def record_card(log: Log, number: int, photo: int | None = None) -> RecordCard:
    """The record card of a lure.

    photo  : the entry of the picture to print; the latest when None
    raises : BadShop, also where the entry is no picture of that lure
    """
    record, card = log.lure(number), lure_card(log, number)
    drawn, undrawn = _drawn(log.design_of(number), record)
    holes: dict[str, list[int]] = {}
    for entry, piece in record.of(Ballast):
        holes.setdefault(piece.hole, []).append(entry.number)
    found = {hole: tuple(numbers) for hole, numbers in holes.items()}
    return RecordCard(card, drawn, undrawn, found, _picture(log, record, photo))


def _drawn(design: Design, record: LureRecord) -> tuple[Papers | None, str]:
    """The lure as it was built; with nothing measured, where what was measured does not fit its design."""
    why = ""
    for tried in (as_measured(design, record).design, design):
        closed = tuple(pocket.model_copy(update={"free": False}) for pocket in tried.pockets)
        try:
            return papers(check(tried.model_copy(update={"pockets": closed}))), why
        except Refusal as refusal:
            told = "; ".join(fault.words for fault in refusal.faults)
            why = f"{refusal.heading}: {told}" if told else refusal.heading
    return None, why


def _picture(log: Log, record: LureRecord, wanted: int | None) -> CardPicture | None:
    kept = {entry.number: photo for entry, photo in record.of(Photo)}
    if wanted is not None and wanted not in kept:
        there = f"its pictures are {', '.join(map(str, kept))}" if kept else "it has none"
        words = f"entry {wanted} is no picture of lure {record.lure.number}; {there}"
        raise BadShop("the card was not written", [Fault("--photo", words)])
    if not kept:
        return None
    entry = max(kept) if wanted is None else wanted
    photo = kept[entry]
    return CardPicture(entry, photo.name, photo.shows, content_of(log.folder, photo))
