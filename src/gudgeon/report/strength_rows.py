"""What holds as rows: each hook's way to the line, each place in all its ways of letting go, a wire instead."""

from collections.abc import Iterator
from dataclasses import replace

from gudgeon.answers.links import Hold, Link, load_of
from gudgeon.answers.strength import Pull, Strength
from gudgeon.answers.wire_run import WireChoice
from gudgeon.physics.spread import Estimate
from gudgeon.report.rows import Measure, Row, Section, Shop, row, slug, words_row
from gudgeon.units import STANDARD_GRAVITY

COMPUTED, ESTIMATE = "computed", "estimate"

SMALL_PRINT = (
    "Loads at which a part lets go, pulled straight out, with the range that holds about 19 times in 20. What goes "
    "first is told of soaked wood, which holds 60 to 70 % of what dry wood does; every way is told dry too. The wood's "
    "grain runs along the lure. Four times the drag is the habit, and a drag of a third of the line: common practice, "
    "no source. A knock, a worn hole or rust are not in "
    "these figures: hang a weight on the first one you make."
)


def strength_rows(answer: Strength, shop: Shop) -> tuple[Row, ...]:
    """Every row."""
    return tuple(line for section in strength_sections(answer, shop) for line in section.rows)


def strength_sections(answer: Strength, shop: Shop) -> tuple[Section, ...]:
    """The rows under their titles: what is asked, each hook, each place, the wire."""
    found = [Section("What is asked of it", tuple(_asked(answer, shop)))]
    *hooks, line = answer.pulls
    found += [Section(_title(pull.name), tuple(_pull(answer, pull, shop))) for pull in hooks]
    found.append(Section("The line's own end", tuple(_pull(answer, line, shop))))
    found += [Section(f"{_title(hold.name)}: every way it can let go", tuple(_hold(hold, shop)))
              for hold in answer.holds if _has_ways(answer, hold)]  # fmt: skip
    return (*found, Section(_wire_title(answer), tuple(_wire(answer, shop))))


def _wire_title(answer: Strength) -> str:
    if answer.wire.fitted:
        return "The wire through it"
    return "A wire within one piece instead" if answer.wire.stiffens else "A wire through it instead"


def strength_headline(answer: Strength, shop: Shop) -> str:
    """What lets go first, in one sentence with its number."""
    first = [(pull, pull.first) for pull in answer.pulls]
    known = [(pull, found) for pull, found in first if found is not None]
    if not known:
        return "Nothing can be told: no hanger, hinge or tow eye is described."
    pull, (hold, link) = min(known, key=lambda one: load_of(one[1][1]))
    load = link.soaked or Estimate(0.0, 0.0, 0.0)
    over = ""
    if answer.drag is not None:
        over = f", {_times('', '', load, answer.drag, shop).shown} times the drag"
    untold = sum(len(other.untold) for other in answer.holds if not _is_hook(answer, other))
    besides = "" if not untold else f" {untold} {'place' if untold == 1 else 'places'} besides cannot be told."
    of = "" if pull.name == hold.name or hold.name == "tow eye" else f" on the way from {pull.name}"
    shown = row("", "", load, Measure.FORCE, shop).shown
    return f"First to let go: {hold.name}{of}, {_part(link)}, at {shown}{over}.{besides}"


def _part(link: Link) -> str:
    """What lets go; of wood, that it is soaked by then."""
    return f"{link.part}, soaked" if link.wet is not None else link.part


def _title(name: str) -> str:
    return f"{name[:1].upper()}{name[1:]}"


def _is_hook(answer: Strength, hold: Hold) -> bool:
    return any(hold.name == hook.name for hook in answer.design.hooks)


def _has_ways(answer: Strength, hold: Hold) -> bool:
    """Whether a place has more than the one figure that its hook's section shows already."""
    return len(hold.links) > 1 and not _is_hook(answer, hold)


def _force(name: str, label: str, load: Estimate | float, shop: Shop, standing: str = "") -> Row:
    """A pull; in newtons, as the weight in kilograms that hangs as hard besides."""
    made = row(name, label, load, Measure.FORCE, shop, standing=standing)
    if shop is Shop.INCH:
        return made
    kilograms = (load.value if isinstance(load, Estimate) else load) / STANDARD_GRAVITY
    digits = 1 if kilograms < 9.95 else 0
    return replace(made, shown=f"{made.shown} ({kilograms:.{digits}f} kg)")


def _over(load: Estimate, force: float) -> Estimate:
    return Estimate(load.value / force, load.low / force, load.high / force)


def _times(name: str, label: str, load: Estimate, force: float, shop: Shop) -> Row:
    """How many times one pull is in another; one decimal is all that such a figure bears."""
    over = _over(load, force)
    made = row(name, label, over, Measure.NUMBER, shop, standing=ESTIMATE)
    ends = f"{over.value:.1f}" if over.low == over.high else f"{over.value:.1f} ({over.low:.1f} to {over.high:.1f})"
    return replace(made, shown=ends)


def _asked(answer: Strength, shop: Shop) -> Iterator[Row]:
    if answer.line is not None:
        yield _force("strength.line", "the line breaks at", answer.line, shop)
    if answer.drag is not None and answer.wanted is not None:
        own = answer.design.tackle.drag is not None
        yield _force("strength.drag", "drag" if own else "drag, a third of the line", answer.drag, shop)
        yield _force("strength.wanted", "every part should hold", answer.wanted, shop)
    for segment, gravity in zip(answer.design.segment_names, answer.gravity, strict=True):
        yield row(f"strength.wood.{slug(segment)}", f"{segment}: specific gravity of its wood, oven-dry", gravity,
                  Measure.NUMBER, shop, standing=COMPUTED)  # fmt: skip


def _pull(answer: Strength, pull: Pull, shop: Shop) -> Iterator[Row]:
    """From hook to line, one row for each place: what goes first there."""
    start = f"strength.{slug(pull.name)}"
    for hold in pull.holds:
        name = f"{start}.{'itself' if hold.name == pull.name else slug(hold.name)}.load"
        link = hold.weakest
        if link is None or link.soaked is None:
            yield words_row(name, hold.name, f"not told: {hold.untold[0].mend}" if hold.untold else "not told")
        else:
            yield _force(name, f"{hold.name}: {_part(link)}", link.soaked, shop, link.standing)
    first = pull.first
    if first is None:
        yield words_row(f"{start}.weakest", "goes first", "not told")
        return
    hold, link = first
    yield words_row(f"{start}.weakest", "goes first", f"{hold.name}: {_part(link)}")
    if link.soaked is not None and answer.drag is not None:
        yield _times(f"{start}.margin", "   times the drag", link.soaked, answer.drag, shop)
    if link.soaked is not None and answer.line is not None:
        yield _times(f"{start}.line_margin", "   times the line", link.soaked, answer.line, shop)


def _hold(hold: Hold, shop: Shop) -> Iterator[Row]:
    """One place, in every way in which it lets go."""
    start = f"strength.part.{slug(hold.name)}"
    for words, size, measure in hold.sizes:
        yield row(f"{start}.size.{slug(words.replace(',', ''))}", words, size, measure, shop)
    for link in hold.links:
        yield from _link(f"{start}.{link.name}", link, shop)
    if hold.sideways is not None:
        yield _force(f"{start}.sideways", "begins to give, pulled sideways", hold.sideways, shop, ESTIMATE)


def _link(name: str, link: Link, shop: Shop) -> Iterator[Row]:
    if link.load is None:
        yield words_row(name, link.part, f"not told: {link.mend}")
        return
    yield _force(f"{name}.load", link.part, link.load, shop, link.standing)
    if link.wet is not None:
        yield _force(f"{name}.wet", "   the wood soaked", link.wet, shop, link.standing)


def _wire(answer: Strength, shop: Shop) -> Iterator[Row]:
    wire = answer.wire
    if wire.stiffens:
        yield words_row("strength.wire.joints", "from piece to piece", "no: a wire through a joint holds it stiff")
    wanted = (("single", "one strand", wire.single), ("twisted", "two strands, twisted", wire.twisted))
    for key, words, choice in wanted:
        if choice is not None:
            yield from _choice(f"strength.wire.{key}", f"{words}, that holds what is wanted", choice, shop)
    if answer.wanted is not None and wire.single is None:
        yield words_row("strength.wire.single", "one strand", "none up to the thickest in the table holds that")
    for number, choice in enumerate(wire.usual, start=1):
        yield from _choice(f"strength.wire.usual_{number}", "the trade's wires" if number == 1 else "", choice, shop)


def _choice(name: str, words: str, choice: WireChoice, shop: Shop) -> Iterator[Row]:
    yield row(f"{name}.wire", words or "and", choice.wire, Measure.WIRE, shop)
    yield row(f"{name}.channel", "   width of its bore or slot", choice.channel, Measure.CUT, shop)
    yield _force(f"{name}.holds", "   holds", choice.holds, shop, ESTIMATE)
