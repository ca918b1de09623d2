"""STEP files of the examples, written, read back by the same kernel, and weighed against the triangles.

Run by hand, with the extra `cad` installed: python -m benchmarks.step_files
"""

import time
from pathlib import Path

from gudgeon.answers.check import check
from gudgeon.design.file import load
from gudgeon.physics.solid import segment_solids
from gudgeon.report.exchange import wood_of
from gudgeon.report.step import read_back, step, volume
from gudgeon.report.step_plan import step_plan

EXAMPLES = Path(__file__).parents[1] / "examples"
WITHIN = 0.005


def told(name: str, *, finished: bool) -> str:
    """One line: how long it took, how large the file is, how far its volume is off."""
    answer = check(load(EXAMPLES / f"{name}.toml"))
    wood = wood_of(answer, finished=finished)
    names = [segment.name for segment in answer.lure.segments]
    triangles = segment_solids(wood.hull, wood.joints, wood.bores, wood.slots, stations=161, points=96)
    began = time.perf_counter()
    content = step(step_plan(wood.hull, wood.joints, wood.bores, wood.slots, names), name)
    took = time.perf_counter() - began
    off = volume(read_back(content)) / sum(1e9 * solid.volume for solid in triangles) - 1.0
    rods, skins = content.count(b"CYLINDRICAL_SURFACE("), content.count(b"B_SPLINE_SURFACE")
    verdict = "right" if abs(off) < WITHIN and rods >= len(wood.bores) else "WRONG"
    return (f"{name:14}{wood.size:15}{took:6.2f} s {len(content) / 1e6:6.2f} MB  volume {100.0 * off:+.3f} %  "
            f"{rods} cylinders  {skins} smooth faces  {verdict}")  # fmt: skip


def main() -> None:
    """Print a line for each example at each size."""
    for name in ("lanternmere", "glider", "diver"):
        for finished in (False, True):
            print(told(name, finished=finished), flush=True)


if __name__ == "__main__":
    main()
