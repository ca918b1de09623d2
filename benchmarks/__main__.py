"""Print how long things take, beside what is claimed and beside a yardstick run in between."""

import tempfile
from pathlib import Path

from benchmarks.claims import Claim, claims
from benchmarks.timing import Timing, timed


def told(seconds: float) -> str:
    """A time in milliseconds below a second, else in seconds."""
    return f"{1000.0 * seconds:.1f} ms" if seconds < 0.9995 else f"{seconds:.2f} s"


def line(claim: Claim, timing: Timing) -> str:
    """One line of the table."""
    claimed = "" if claim.most is None else told(claim.most)
    verdict = "" if claim.most is None else ("met" if timing.middle <= claim.most else "MISSED")
    return (f"{claim.words:40}{told(timing.least):>10}{told(timing.middle):>10}{claimed:>10}  {verdict:7}"
            f"{timing.ratio:8.2f}  {claim.yardstick.__name__.replace('_', ' ')}")  # fmt: skip


def main() -> None:
    """Time every claim and print the table; a claim is met when the median run is within it."""
    print(f"{'':40}{'least':>10}{'median':>10}{'claimed':>10}  {'':7}{'ratio':>8}  to the yardstick")
    with tempfile.TemporaryDirectory() as folder:
        for claim in claims(Path(folder)):
            print(line(claim, timed(claim.work, claim.yardstick, claim.times)), flush=True)


if __name__ == "__main__":
    main()
