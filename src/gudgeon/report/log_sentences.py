"""What the log has to say at the bench, in a sentence."""

from collections.abc import Sequence

from gudgeon.answers.next_weighing import NextWeighing
from gudgeon.report.laying import plain
from gudgeon.report.log_rows import WHOLE, number_ranges
from gudgeon.report.rows import Shop
from gudgeon.units import Measure

_ONCE = {"leaded": "its lead is in", "clear": "the clear coat is on"}


def next_words(found: NextWeighing | None, shop: Shop) -> str:
    """What to put on the scale next, and what it should about show."""
    if found is None:
        return "It is weighed at every stage; what it does in the water is left to note."
    what = "it" if found.piece == WHOLE else f"the {found.piece}"
    if found.before_lead:
        return f"Enter the lead as it goes in; then weigh {what}."
    about = "" if found.expected is None else f": about {plain(found.expected, Measure.MASS, shop)}"
    about += ", no hole bored" if about and found.unbored else ""
    return f"Weigh {what} once {_ONCE.get(found.stage, f'it is {found.stage}')}{about}."


def run_words(numbers: Sequence[int], at: Sequence[tuple[str, int]]) -> str:
    """Which lures a run has, and how far they have come.

    numbers : of the lures, in their order
    at      : stage -> how many have come so far and no further
    """
    which = f"lure{'' if len(numbers) == 1 else 's'} {number_ranges(numbers)}"
    return f"{which}: {', '.join(f'{count} {stage}' for stage, count in at)}"
