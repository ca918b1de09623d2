"""Rows of hinges, hooks and clashes: names that stay, numbers that are those of the answer."""

from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner

from gudgeon.answers.assembly import assemble
from gudgeon.answers.ballasting import ballasting
from gudgeon.answers.rigging import rigging
from gudgeon.cli.hardware_commands import add_hardware_commands
from gudgeon.design.file import load, parse
from gudgeon.report.hardware_rows import hardware_headline, hardware_rows, hardware_sections
from gudgeon.report.rows import Shop

DEMO = Path(__file__).parents[2] / "examples" / "lanternmere.toml"


def asked(design):
    ballast = ballasting(design, assemble(design))
    return rigging(design, ballast.lure, ballast.pockets)


@pytest.fixture(scope="module")
def design():
    return load(DEMO)


@pytest.fixture(scope="module")
def answer(design):
    return asked(design)


@pytest.fixture(scope="module")
def crowded():
    text = DEMO.read_text(encoding="utf-8")
    return parse(text.replace('name = "shoulder"\nat = "107 mm"', 'name = "shoulder"\nat = "93 mm"'))


def by_name(rows):
    return {row.name: row for row in rows}


def test_names_stay(design, answer):
    found = by_name(hardware_rows(answer, design.segment_names, Shop.METRIC))
    for name in ("hinge.1.play", "hinge.1.eye_play", "hinge.3.swing", "hinge.2.turns", "hinge.1.mass",
                 "hinge.1.exposed",
                 "hinge.1.upper_eye.sizes", "hinge.2.pin.mass", "hinge.1.cut.lower_slot.shoulder.depth",
                 "hinge.1.cut.hole_for_the_pin.shoulder.size", "hook.front_hook.reach", "hook.front_hook.to_rear_hook",
                 "hook.front_hook.to_rear_hook.folded", "hook.front_hook.to_tow_eye", "hook.rear_hook.to_fin"):
        assert name in found  # fmt: skip


def test_no_name_stands_twice(design, answer):
    rows = hardware_rows(answer, design.segment_names, Shop.METRIC)
    assert len(by_name(rows)) == len(rows)


@pytest.mark.parametrize(("shop", "scale"), [(Shop.METRIC, 1e3), (Shop.INCH, 1.0 / 0.0254)])
def test_numbers_are_the_answers(design, answer, shop, scale):
    found = by_name(hardware_rows(answer, design.segment_names, shop))
    hinge, pair = answer.hinging.hinges[0], answer.hanging.pairs[0]
    assert found["hinge.1.play"].value == pytest.approx(scale * 0.0008)
    assert found["hinge.1.at"].value == pytest.approx(scale * 0.090)
    assert found["hinge.1.mass"].value == pytest.approx(1e3 * hinge.mass)
    assert found["hook.front_hook.to_rear_hook"].value == pytest.approx(scale * pair.straight)
    assert found["hook.front_hook.to_rear_hook.folded"].value == pytest.approx(scale * pair.folded)
    slot = next(cut for cut in hinge.made.cutouts if cut.is_open)
    assert found["hinge.1.cut.lower_slot.shoulder.depth"].value == pytest.approx(scale * slot.depth)


def test_sections_in_order(design, answer):
    titles = [section.title for section in hardware_sections(answer, design.segment_names, Shop.METRIC)]
    assert titles == ["Hinge 1, joint 1: eyes on a pin", "Hinge 2, joint 2: eyes on a pin",
                      "Hinge 3, joint 3: eyes on a pin", "Hooks"]  # fmt: skip


def test_every_kind_of_hinge_has_rows_with_names_of_their_own(design):
    for kind in ("plate and pin", "wire eye and pin", "screw eyes", "eyes on a pin", "strap"):
        hinges = tuple(hinge.model_copy(update={"kind": kind}) for hinge in design.hinges)
        rows = hardware_rows(asked(design.model_copy(update={"hinges": hinges})), design.segment_names, Shop.METRIC)
        assert len(by_name(rows)) == len(rows)


def test_the_headline_and_the_clashes(crowded, answer):
    assert hardware_headline(answer) == "Everything in the wood has its room; no hook can catch another."
    met = asked(crowded)
    assert hardware_headline(met).endswith("; no hook can catch another.")
    assert "in the wood meet" in hardware_headline(met)
    found = by_name(hardware_rows(met, crowded.segment_names, Shop.METRIC))
    worst = met.clashes[0]
    assert found["clash.1.what"].value == f"{worst.what} and {worst.to}"
    assert found["clash.1.left"].value == pytest.approx(1e3 * worst.distance)
    assert [found[f"clash.1.{key}"].value for key in ("at", "offset", "height")] == pytest.approx(
        [1e3 * c for c in worst.place])  # fmt: skip


def test_the_command_tells_findings_first_and_rows_after(tmp_path, crowded):
    app = typer.Typer(rich_markup_mode=None)
    app.callback()(lambda: None)
    add_hardware_commands(app)
    text = DEMO.read_text(encoding="utf-8")
    path = tmp_path / "crowded.toml"
    path.write_text(text.replace('name = "shoulder"\nat = "107 mm"', 'name = "shoulder"\nat = "93 mm"'), "utf-8")
    told = CliRunner().invoke(app, ["hardware", str(path)])
    assert told.exit_code == 0
    assert told.output.index("x wrong: The shoulder bore meets hinge 1's") < told.output.index("up and down play")


def test_a_depth_is_told_with_where_it_counts_from():
    design = load(DEMO.with_name("glider.toml"))
    found = by_name(hardware_rows(asked(design), design.segment_names, Shop.INCH))
    labels = {name: row.label for name, row in found.items() if ".cut." in name and name.endswith(".depth")}
    cups = {name for name in labels if "cup" in name}
    assert 0 < len(cups) < len(labels)
    for name, label in labels.items():
        assert label.endswith("the finished face" if name in cups else "the cup's bottom"), name
