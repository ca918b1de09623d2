"""What the maker should know of what holds: what lets go too soon, what cannot be told, what had to be assumed."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from gudgeon.answers.finding import Finding
from gudgeon.answers.links import Hold
from gudgeon.answers.saying import note, watch, wrong
from gudgeon.answers.wire_run import WireRun
from gudgeon.physics.spread import Estimate
from gudgeon.units import Measure

WANTED_DRAGS = 4.0  # times the drag that every part should hold; common practice, no source
LIGHT_WOOD = 350.0  # kg/m3 at 12 %; below it the trade takes a through-wire whatever the sum says: common practice
_DENSITY_OF_TABLE = 1120.0  # kg/m3 of wood of specific gravity 1, at 12 %


def holding_findings(
    holds: Sequence[Hold], pulls: Mapping[str, Sequence[str]], line: float | None, drag: float | None, wire: WireRun,
    gravity: Sequence[Estimate],
) -> list[Finding]:  # fmt: skip
    """Everything to be told, in no order.

    pulls      : hook -> names of the holds its pull goes through
    line, drag : [N]
    """
    weak = [told for hold in holds if (told := _weak(hold, pulls, line, drag)) is not None]
    found = [*weak, *_bent(holds, drag)]
    if drag is None:
        found.append(note("no line and no drag is told, so nothing can be said of margins; give [tackle] line"))
    found += [*_untold(holds), *_assumed(holds), *_stretched(holds)]
    offered = not wire.fitted and not wire.stiffens
    if weak and offered and wire.single is not None:
        found.append(note("a single through-wire of {wire} stainless spring wire, in a channel {channel} wide, holds "
                          "{holds} and takes the wood out of the pull",
                          wire=(wire.single.wire, Measure.WIRE), channel=(wire.single.channel, Measure.CUT),
                          holds=(wire.single.holds, Measure.FORCE)))  # fmt: skip
    lightest = min(one.value for one in gravity)
    if lightest * _DENSITY_OF_TABLE < LIGHT_WOOD and not wire.fitted:
        through = "each piece of " if wire.stiffens else ""
        found.append(note("wood of {density} is under {least}: the trade runs a wire through "
                          f"{through}wood this light, whatever the sum says",
                          density=(lightest * _DENSITY_OF_TABLE, Measure.DENSITY),
                          least=(LIGHT_WOOD, Measure.DENSITY)))  # fmt: skip
    return [replace(finding, words=f"{finding.words.removesuffix('.')}.") for finding in found]


def _weak(hold: Hold, pulls: Mapping[str, Sequence[str]], line: float | None, drag: float | None) -> Finding | None:
    """A place that lets go before it should; None when it does not, or when nothing is asked."""
    link = hold.weakest
    if link is None or link.load is None or drag is None:
        return None
    load, wanted = link.soaked or link.load, max(WANTED_DRAGS * drag, line or 0.0)
    numbers = {**link.numbers, "load": (load, Measure.FORCE), "drag": (drag, Measure.FORCE),
               "wanted": (wanted, Measure.FORCE)}  # fmt: skip
    if line is not None:
        numbers["line"] = (line, Measure.FORCE)
    through = [hook for hook, passed in pulls.items() if hold.name in passed and hook != hold.name]
    of = f", on the way from {_listed(through)}," if through and len(through) < len(pulls) else ""
    soaked = " once it is soaked" if link.wet is not None else ""
    start = f"{plain(hold.name)}{of} lets go at {{load}}: {plain(link.part)}{soaked}; "
    mend = f". Mend: {link.mend}" if link.mend else ""
    if load.value < drag:
        return wrong(f"{start}that is less than the drag of {{drag}}{mend}", **numbers)
    if line is not None and load.value < line:
        return watch(f"{start}the line breaks at {{line}}, so the lure goes first{mend}", **numbers)
    if load.low < drag:
        return watch(f"{start}at its least that is below the drag of {{drag}}{mend}", **numbers)
    if load.value < wanted:
        return watch(f"{start}that is less than the {{wanted}} that every part should hold, four times the drag of "
                     f"{{drag}} by habit{mend}", **numbers)  # fmt: skip
    return None


def _bent(holds: Sequence[Hold], drag: float | None) -> Iterator[Finding]:
    """Shanks that an ordinary pull from the side bends, with the figure of the weakest and the wire that would do."""
    bent = [(hold.name, hold.sizes[0][1], hold.sideways) for hold in holds
            if drag is not None and hold.sideways is not None and hold.sideways.value < drag]  # fmt: skip
    if drag is None or not bent:
        return
    least = min((side for _, _, side in bent), key=lambda side: side.value)
    thicker = max(wire * (drag / side.value) ** 0.5 for _, wire, side in bent)
    words = "begins to give at {least}" if len(bent) == 1 else "begin to give, the weakest at {least}"
    yield watch(f"{_listed([name for name, _, _ in bent])}, pulled sideways, {words}, below the drag of {{drag}}: an "
                "ordinary pull from the side bends it over. Mend: {thicker} wire, or wire that runs on through the "
                "wood", least=(least, Measure.FORCE), drag=(drag, Measure.FORCE),
                thicker=(thicker, Measure.WIRE))  # fmt: skip


def _untold(holds: Sequence[Hold]) -> Iterator[Finding]:
    """What cannot be told, places with the same reason together."""
    reasons: dict[str, list[str]] = {}
    for hold in holds:
        for link in hold.untold:
            reasons.setdefault(link.mend, []).append(hold.name)
    for why, names in reasons.items():
        yield note(f"{_listed(names, quote=False)}: {why}")


def _assumed(holds: Sequence[Hold]) -> Iterator[Finding]:
    """What had to be assumed, places with the same assumption together."""
    assumed: dict[str, list[str]] = {}
    for hold in holds:
        for words in hold.notes:
            assumed.setdefault(words, []).append(hold.name)
    for words, names in assumed.items():
        yield note(f"{_listed(names, quote=False)}: {words}")


def _stretched(holds: Sequence[Hold]) -> Iterator[Finding]:
    """Formulas used on sizes smaller than were tested."""
    names = [hold.name for hold in holds if any(link.beyond_tested and link.load is not None for link in hold.links)]
    if names:
        yield note(f"{_listed(names, quote=False)}: smaller than anything the handbook's formula was tested with, so "
                   "it is stretched, and its spread is widened to a half either way")  # fmt: skip


def plain(words: str) -> str:
    """Words that a maker may have put braces in, safe among numbers to be filled in."""
    return words.replace("{", "{{").replace("}", "}}")


def _listed(names: Sequence[str], *, quote: bool = True) -> str:
    shown = [plain(name) if quote else name for name in names]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"
