"""Makers' stories, lived through the log from the first weight to the last fix, as a maker types them.

The lures are invented and the numbers expected were computed from physics beforehand, as in
tests/published/test_trade_stories.py; here it is the drawn lure, the log and the commands that must come to them.
"""

import json
import math
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from gudgeon.cli.main import app
from gudgeon.errors import Refusal

STATIONS = (0.0, 0.04, 0.12, 0.25, 0.45, 0.65, 0.85, 1.0)  # of the length
DEEP = (0.30, 0.62, 0.86, 0.98, 1.0, 0.95, 0.82, 0.66)
WIDE = (0.16, 0.38, 0.64, 0.85, 1.0, 0.80, 0.46, 0.16)
BLANKS = (41.2, 43.0, 43.9, 44.8, 45.1, 45.6, 46.2, 46.9, 47.7, 48.8, 50.3, 53.1)
LEADS = (55.3, 53.5, 52.6, 51.7, 51.4, 50.9, 50.3, 49.6, 48.8, 47.7, 46.2, 43.4)


def body(length: float, depth: float, width: float) -> str:
    """A slab-sided body that fills 0.6 of its box, and 0.7 of it seen from above."""

    def points(shares: Sequence[float], most: float) -> str:
        return ", ".join(f'"{at * length:.1f} mm: {share * most:.2f} mm"'
                         for at, share in zip(STATIONS, shares, strict=True))  # fmt: skip

    return (f'length = "{length} mm"\n[outline]\nback = [{points(DEEP, depth / 2.0)}]\n'
            f'side = [{points(WIDE, width / 2.0)}]\nfullness = ["0 mm: 4", "{length} mm: 4"]\n')  # fmt: skip


def design(name: str, size: tuple[float, float, float], parts: str, coat: float, water: str, aim: str) -> str:
    return (f'name = "{name}"\n{body(*size)}[wood]\nspecies = "poplar"\n{parts}'
            f'[[coat]]\nname = "clear"\nthickness = "{coat} mm"\nmaterial = "epoxy"\n'
            f'[water]\nkind = "fresh"\ntemperature = "{water}"\n[aim]\n{aim}\n'
            "[coefficients]\nfall_drag = 1.0\n")  # fmt: skip


def hook(name: str, at: float, weight: float) -> str:
    return f'[[hook]]\nname = "{name}"\nat = "{at} mm"\nweight = "{weight} g"\n'


def fixed(name: str, at: float, weight: float, material: str = "steel") -> str:
    """Something outside, on the middle line."""
    return (f'[[fitting]]\nname = "{name}"\nkind = "other"\nweight = "{weight} g"\nmaterial = "{material}"\n'
            f'at = "{at} mm"\nheight = "0 mm"\n')  # fmt: skip


def pocket(name: str, at: float, bore: float, more: str = 'plug = "0 mm"') -> str:
    return f'[[pocket]]\nname = "{name}"\nat = "{at} mm"\nbore = "{bore} mm"\n{more}\n'


def run(*words: str) -> str:
    result = CliRunner(env={"COLUMNS": "120", "NO_COLOR": "1"}).invoke(app, list(words), catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result.output


def asked(*words: str) -> dict[str, Any]:
    """Name -> value of the rows, and the headline and warnings."""
    found = json.loads(run(*words, "--json"))
    return {row["name"]: row["value"] for row in found["rows"]} | {key: found[key] for key in ("headline", "warnings")}


def log(*words: str) -> None:
    run("log", *words)


def grams_in(words: str) -> float:
    """The first grams that a change's words tell."""
    return float(words.split(" g")[0].split()[-1])


def refused(*words: str) -> str:
    with pytest.raises(Refusal) as found:
        CliRunner().invoke(app, list(words), catch_exceptions=False)
    return str(found.value)


def fix_named(found: dict[str, Any], words: str) -> str:
    """The number of the first change whose words have these in them."""
    changes = {name: value for name, value in found.items() if name.endswith(".change")}
    name = next(name for name, value in changes.items() if words in value)
    return name.removesuffix(".change")


@pytest.fixture
def shop(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A shop just begun, where one stands."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.delenv("GUDGEON_SHOP", raising=False)
    log("start")
    return tmp_path


def begun(folder: Path, text: str, count: int = 1) -> None:
    """A pattern, and lures of it."""
    (folder / "lure.toml").write_text(text, encoding="utf-8")
    log("add", "pattern", "lure.toml")
    log("add", "lure", text.split('"')[1], "--count", str(count))


GLIDE = design(
    "Story glide", (178.0, 50.0, 24.0),
    hook("front hook", 50, 7) + hook("rear hook", 132, 7) + fixed("line eye", 2, 3.7)
    + pocket("front", 36, 12) + pocket("middle", 75, 12) + pocket("rear", 118, 12),
    0.28, "55 F", 'does = "sinks"\nrate = "3 s/ft"',
)  # fmt: skip


def test_story_2_and_8_a_glide_from_its_blank_to_the_tank_and_to_the_sea(shop: Path) -> None:
    """128.2 cm3 of poplar at 0.47, 17.7 g of hardware, 6 g of coats: 55.5 g of lead for 3 s/ft, 137 g in all."""
    begun(shop, GLIDE)
    log("weigh", "1", "60.2 g", "--stage", "shaped")
    log("jug", "1", "128.0 g", "--stage", "shaped", "--water", "20 C")
    found = asked("check", "lure.toml", "--lure", "1")
    assert found["log.missing"] == pytest.approx(55.5, abs=0.4)
    assert found["whole.mass"] == pytest.approx(137.0, abs=1.0)
    assert found["whole.excess"] == pytest.approx(1.6, abs=0.1)

    # all but the last 3 g goes in, for the tank
    log("ballast", "1", "41.4 g", "--hole", "middle")
    log("ballast", "1", "11.1 g", "--hole", "rear")
    log("weigh", "1", "110.5 g", "--stage", "leaded")
    log("weigh", "1", "116.5 g", "--stage", "clear")
    log("weigh", "1", "134.2 g", "--stage", "rigged")
    log("drop", "1", "--distance", "4 ft", "--time", "13.0, 13.4, 13.2 s", "--rises", "--water", "55 F")
    floats = asked("log", "mend", "1")
    assert floats["mend.symptom"] == "floats"
    assert floats["mend.now.excess"] == pytest.approx(-1.3, abs=0.15)
    last = fix_named(floats, "more into the")
    assert floats[f"{last}.net"] == pytest.approx(2.9, abs=0.2)
    assert floats[f"{last}.mends"] == "yes"

    # the last hole, and what the tank then says
    log("ballast", "1", "3.0 g", "--hole", "rear")
    for entry, mass in (("7", "113.4 g"), ("8", "119.4 g"), ("9", "137.1 g")):
        log("correct", entry, "--set", f"mass = {mass}", "--why", "with the last 3 g in it", "--sure")
    log("correct", "10", "--void", "--why", "dropped before the last 3 g went in")
    log("drop", "1", "--distance", "4 ft", "--time", "12.0 s", "--water", "55 F")
    log("lies", "1", "1 deg nose-down", "--state", "falling", "--water", "55 F")
    done = asked("check", "lure.toml", "--lure", "1")
    assert done["log.held"] == pytest.approx(55.5)
    assert abs(done["log.missing"]) < 0.3
    assert done["now.excess"] == pytest.approx(1.57, abs=0.25)

    # story 8: at 33 ppt and 59 F it floats, and what comes off again restores it
    log("lies", "1", "0 deg", "--state", "afloat", "--water", "59 F", "--salinity", "33 ppt")
    sea = asked("log", "mend", "1", "--seen", "floats")
    assert sea["mend.now.excess"] == pytest.approx(-1.98, abs=0.3)
    light = 1.6 - sea["mend.now.excess"]
    assert light == pytest.approx(3.6, abs=0.3)
    stick, inside = fix_named(sea, "of stick-on lead"), fix_named(sea, "more into the")
    assert grams_in(sea[f"{stick}.change"]) == pytest.approx(3.9 * light / 3.55, abs=0.15)
    assert grams_in(sea[f"{inside}.change"]) == pytest.approx(3.7 * light / 3.55, abs=0.15)
    hooks = fix_named(sea, "ach hook")
    assert grams_in(sea[f"{hooks}.change"]) == pytest.approx(2.03 * light / 3.55, abs=0.1)  # two trebles
    assert sea[f"{hooks}.mends"] == sea[f"{stick}.mends"] == "yes"
    assert sea[f"{stick}.undone"] == "yes"
    assert sea[f"{stick}.fresh"] > 3.0  # in the lake it is then too fast
    log("change", "1", "both hooks 2 g heavier", "--why", "floats in the sea")
    log("card", "1", "--out", "glide.pdf")
    assert (shop / "glide.pdf").read_bytes().startswith(b"%PDF")


JERK = design(
    "Story jerkbait", (110.0, 20.0, 13.5),
    hook("front hook", 32, 0.72) + hook("middle hook", 62, 0.72) + hook("tail hook", 108, 0.72)
    + fixed("line eye", 1, 1.3) + fixed("bill", 4, 0.84, "polycarbonate")
    + pocket("front", 38, 6) + pocket("middle", 55, 6) + pocket("rear", 70, 6),
    0.3, "45 F", 'does = "hangs"',
)  # fmt: skip


def test_story_5_a_suspender_that_one_hook_up_a_size_sinks(shop: Path) -> None:
    """17.8 cm3 at 0.42, hardware 4.3 g, coats 2 g: 7.1 g of lead at 45 F, 20.7 g in all; +0.23 g of hook is +0.20."""
    begun(shop, JERK)
    log("weigh", "1", "7.50 g ± 0.01 g", "--stage", "shaped")
    log("jug", "1", "17.77 g ± 0.02 g", "--stage", "shaped", "--water", "20 C", "--sure")
    cold = asked("check", "lure.toml", "--lure", "1")
    assert cold["log.missing"] == pytest.approx(7.1, abs=0.2)
    assert cold["whole.mass"] == pytest.approx(20.7, abs=0.3)

    for name in ("front", "middle", "rear"):
        if f"pocket.{name}.mass" in cold:
            log("ballast", "1", f"{cold[f'pocket.{name}.mass']:.2f} g", "--hole", name)
    hung = asked("check", "lure.toml", "--lure", "1")
    assert hung["now.excess"] == pytest.approx(0.0, abs=0.03)
    log("fit", "1", "0.95 g ± 0.01 g", "--part", "middle hook")
    heavier = asked("check", "lure.toml", "--lure", "1")
    assert heavier["now.excess"] - hung["now.excess"] == pytest.approx(0.20, abs=0.01)

    # at the lake it sinks, a foot in five seconds
    log("drop", "1", "--distance", "3 ft", "--time", "15 s", "--water", "45 F")
    sinks = asked("log", "mend", "1")
    assert sinks["mend.symptom"] == "sinks fast"
    assert sinks["mend.now.excess"] == pytest.approx(0.17, abs=0.08)
    first = fix_named(sinks, "ach hook")
    assert first == "mend.1"
    assert sinks["mend.1.rung"] == "hooks"
    assert 3.0 * grams_in(sinks["mend.1.change"]) * 0.873 == pytest.approx(sinks["mend.now.excess"], abs=0.03)
    log("fit", "1", "0.72 g ± 0.01 g", "--part", "middle hook")
    log("change", "1", "the size below again on the middle hanger", "--why", "it sank")


NOSEDOWN = design(
    "Story sinker", (168.0, 48.0, 24.0),
    hook("front hook", 42, 5) + hook("rear hook", 142, 5) + fixed("line eye", 2, 3)
    + pocket("front", 35, 10, 'depth = "24 mm"')
    + pocket("middle", 80, 12, 'depth = "24 mm"') + pocket("rear", 120, 8),
    0.25, "68 F", 'does = "sinks"\nrate = "3.2 s/ft"',
)  # fmt: skip


BAIT = design(
    "Story bait", (170.0, 46.0, 25.0),
    hook("front hook", 48, 7) + hook("rear hook", 126, 7) + fixed("line eye", 2, 4)
    + pocket("front", 50, 12.7) + pocket("rear", 110, 12.7),
    0.26, "54 F", 'does = "sinks"\nrate = "3.5 s/ft"',
)  # fmt: skip


def test_story_9_a_nose_down_sinker_is_levelled_by_its_hooks(shop: Path) -> None:
    """118 g displaced, 3.2 s/ft, 15 deg nose-down, the centres 4 mm apart: 126 g mm; 1.4 g from front to rear hook."""
    begun(shop, NOSEDOWN)
    log("weigh", "1", "56.0 g", "--stage", "shaped")
    log("ballast", "1", "13.0 g", "--hole", "front")
    log("ballast", "1", "22.0 g", "--hole", "middle")
    log("jug", "1", "117.9 g", "--stage", "rigged", "--water", "68 F")
    log("weigh", "1", "119.5 g", "--stage", "rigged", "--sure")
    log("drop", "1", "--distance", "4 ft", "--time", "12.8 s", "--water", "68 F")
    log("lies", "1", "15 deg nose-down", "--state", "falling", "--water", "68 F")
    found = asked("log", "mend", "1")
    assert found["mend.symptom"] == "nose-down"
    assert found["mend.now.pitch"] == pytest.approx(-15.0, abs=0.2)
    assert found["mend.now.excess"] == pytest.approx(1.5, abs=0.3)
    apart = found["mend.now.upright"] / 100.0 * 48.5  # mm, of its finished depth
    assert apart == pytest.approx(4.0, abs=0.3)
    moment = 118.0 * apart * math.tan(math.radians(15.0))
    assert moment == pytest.approx(126.0, abs=10.0)

    # the hooks: no change in sink
    assert found["mend.1.rung"] == "hooks"
    assert found["mend.1.change"].endswith("lighter, rear hook as much heavier")
    assert grams_in(found["mend.1.change"]) == pytest.approx(moment / 100.0 / 0.873, abs=0.1)
    assert abs(found["mend.1.pitch"]) < 1.0
    assert found["mend.1.net"] == pytest.approx(0.0, abs=0.01)
    # stick-on lead: it then sinks faster
    stick = fix_named(found, "stick-on lead on the belly")
    assert grams_in(found[f"{stick}.change"]) == pytest.approx(moment / 66.0 / 0.912, abs=0.2)
    assert "sinks faster" in found[f"{stick}.effect.1"]
    # out of the front hole: it then floats, and comes last
    hole = fix_named(found, "out of the front hole, ")
    assert grams_in(found[f"{hole}.change"]) == pytest.approx(moment / 46.0 / 0.9, abs=0.4)
    assert found[f"{hole}.effect.1"].startswith("Then it floats")
    assert (found[f"{hole}.mends"], found[f"{hole}.spoils"]) == ("yes", "yes")
    assert int(hole.removeprefix("mend.")) > int(stick.removeprefix("mend."))

    # done, seen again, and nothing left to mend
    mass = grams_in(found["mend.1.change"])
    log("fit", "1", f"{5.0 - mass} g", "--part", "front hook")
    log("fit", "1", f"{5.0 + mass} g", "--part", "rear hook")
    log("change", "1", found["mend.1.change"], "--why", "nose-down sink")
    log("lies", "1", "1 deg nose-down", "--state", "falling", "--water", "68 F")
    assert "nothing that is to be mended" in refused("log", "mend", "1")


def test_the_batch_story_twelve_blanks_from_the_scale_to_the_drill_card(shop: Path) -> None:
    """Lead for each by its own weight, two set aside, a bore for each; then one is finished as it was told."""
    begun(shop, BAIT, 12)
    for number, blank in enumerate(BLANKS, start=1):
        log("weigh", str(number), f"{blank} g", "--stage", "shaped", "--sure")
    log("jug", "7", "109.8 g", "--stage", "shaped", "--water", "20 C")
    found = asked("log", "batch", "Story bait", "--bit", "1/2 in", "--holes", "2")
    assert [found[f"batch.{number}.lead"] for number in range(1, 13)] == pytest.approx(LEADS, abs=0.2)
    depths = [found[f"batch.{number}.depth"] for number in range(1, 13)]  # of each of the two holes
    assert 2.0 * min(depths) == pytest.approx(30.2, abs=0.3)
    assert 2.0 * max(depths) == pytest.approx(38.5, abs=0.3)
    assert found["batch.per_depth"] == pytest.approx(1.44, abs=0.005)
    assert found["batch.mean"] == pytest.approx(50.1, abs=0.1)
    assert found["batch.scatter"] == pytest.approx(7.0, abs=0.3)
    assert "5 of 12 would float (number 1, 2, 3, 4, 5)" in found["warnings"][0]
    assert "Set aside number 1, 12" in " ".join(found["warnings"])
    assert found["run.at.shaped"] == 12

    # number 8 is leaded, hung and dropped: what it still wants is next to nothing
    log("ballast", "8", "24.8 g", "--hole", "front")
    log("ballast", "8", "24.8 g", "--hole", "rear")
    log("jug", "8", "109.8 g", "--stage", "shaped", "--water", "20 C")
    own = asked("check", "lure.toml", "--lure", "8")
    assert own["log.held"] == pytest.approx(49.6)
    assert own["log.missing"] == pytest.approx(0.0, abs=0.15)
    assert own["now.excess"] == pytest.approx(1.19, abs=0.15)  # 3.5 s/ft on 30 cm2

    # a second run of the pattern out of a heavier board stands beside the first
    log("add", "lure", "Story bait", "--count", "3")
    for number, blank in ((13, 52.0), (14, 54.0), (15, 53.0)):
        log("weigh", str(number), f"{blank} g", "--stage", "shaped", "--sure")
    second = asked("log", "batch", "Story bait")
    assert second["run.shaped.mean"] == pytest.approx(53.0)
    assert second["run.shaped.last_mean"] == pytest.approx(found["run.shaped.mean"])
    assert any("heavier than the last run" in words for words in second["warnings"])
