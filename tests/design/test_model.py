"""The tables of a design: what each key reads to in SI, what one table alone refuses, and docs that tell every key."""

import re
from pathlib import Path
from typing import Any

import pytest
from pydantic import ValidationError

from gudgeon.design.file import parse
from gudgeon.design.model import (
    STAGES,
    Aim,
    Coat,
    Design,
    Fitting,
    Hook,
    Joint,
    Measured,
    Outline,
    Shot,
    Stock,
    Tub,
    Uncertainty,
    Water,
    Wood,
    usual_segment_names,
)
from gudgeon.design.table import (
    Point,
    Table,
    listed,
    mark_of,
    readable,
    rows,
    shown,
    table_in,
    takes_list,
    written_keys,
)
from gudgeon.units import INCH, OUNCE, Kind, Reading

DOCS = Path(__file__).parents[2] / "docs" / "design-file.md"
SIDE = ["0 mm: 0 mm", "90 mm: 2 mm"]


def words_of(table: type[Table], **keys: object) -> list[str]:
    with pytest.raises(ValidationError) as caught:
        table.model_validate(keys)
    return [str(error["msg"]) for error in caught.value.errors()]


def design(**keys: object) -> Design:
    least: dict[str, Any] = {
        "name": "x",
        "length": "90 mm",
        "outline": {"back": SIDE, "side": SIDE},
        "wood": {"species": "basswood"},
        "water": {"temperature": "15 C"},
        "aim": {"does": "hangs"},
    }
    return Design.model_validate(least | keys)


class TestQuantities:
    def test_are_read_to_si_with_their_spread(self) -> None:
        hook = Hook.model_validate({"name": "front", "at": "1 1/2 in", "weight": "1/8 oz ± 2 %", "height": "-9 mm"})
        assert hook.at == pytest.approx(1.5 * INCH)
        assert hook.weight is not None
        assert hook.weight.value == pytest.approx(OUNCE / 8)
        assert hook.weight.spread == pytest.approx(0.02 * OUNCE / 8)
        assert hook.height == pytest.approx(-0.009)

    def test_a_reading_without_a_spread_has_none(self) -> None:
        assert Wood.model_validate({"blank_weight": "60 g"}).blank_weight == Reading(0.06)

    def test_lists_of_quantities_are_read_item_by_item(self) -> None:
        aim = Aim.model_validate({"does": "hangs", "speeds": ["1 kn", "2 mph"], "rod": ["20 g", "80 g"]})
        assert aim.speeds == pytest.approx((1852 / 3600, 2 * 0.44704))
        assert aim.rod == pytest.approx((0.02, 0.08))

    def test_points_are_read_in_pairs(self) -> None:
        outline = Outline.model_validate({"back": SIDE, "side": SIDE, "fullness": ["0 mm: 2", "90 mm: 2.5"]})
        assert outline.fullness == (Point(0.0, 2.0), Point(pytest.approx(0.09), 2.5))
        assert Outline.model_validate({"back": SIDE, "side": SIDE, "fullness": 3}).fullness == (Point(0.0, 3.0),)

    def test_an_attitude_is_written_as_it_is_said(self) -> None:
        aim = Aim.model_validate({"does": "hangs", "attitude": "3 deg nose-down"})
        assert aim.attitude == pytest.approx(-0.0523598776)

    @pytest.mark.parametrize("value", [True, 3, 2.5, float("nan"), None, {}, "3", "3 parsec", "nan g", "inf g", "-1 g"])
    def test_nothing_else_passes_for_a_weight(self, value: object) -> None:
        with pytest.raises(ValidationError):
            Fitting.model_validate({"name": "x", "kind": "ring", "weight": value, "material": "steel", "at": "1 mm"})

    @pytest.mark.parametrize("fullness", [True, float("nan"), float("inf"), -float("inf"), 10**400, "2", {}])
    def test_nothing_but_a_finite_number_passes_for_a_fullness(self, fullness: object) -> None:
        with pytest.raises(ValidationError):
            Outline.model_validate({"back": SIDE, "side": SIDE, "fullness": fullness})


class TestTables:
    def test_are_frozen_and_refuse_unknown_keys(self) -> None:
        joint = Joint.model_validate({"at": "40 mm", "gap": "2 mm"})
        with pytest.raises(ValidationError):
            joint.gap = 0.0  # type: ignore[misc]
        assert words_of(Joint, at="40 mm", gap="2 mm", bevel="3 deg") == ["Extra inputs are not permitted"]

    def test_counts_are_whole_numbers_within_reason(self) -> None:
        for coats in (0, 51, 2.0, "2", True):
            with pytest.raises(ValidationError):
                Coat.model_validate({"name": "clear", "thickness": "0.2 mm", "material": "epoxy", "coats": coats})

    def test_wood_is_known_somehow(self) -> None:
        assert words_of(Wood, moisture="8 %") == ["give species, density or blank_weight"]

    def test_a_hook_has_a_weight_or_a_size(self) -> None:
        assert words_of(Hook, name="x", at="1 mm") == [
            "give weight or size; weigh it with its ring, or give a treble's size"
        ]

    def test_a_coat_has_a_material_or_a_density(self) -> None:
        assert words_of(Coat, name="x", thickness="0.1 mm") == ["give material or density"]

    def test_shot_has_a_weight_or_a_diameter(self) -> None:
        assert words_of(Shot, count=3) == ["give weight or diameter"]

    def test_a_measured_entry_has_one_reading(self) -> None:
        assert words_of(Measured, stage="sealed") == ["give one of weight, displaced, sinks, rises or lies"]
        assert words_of(Measured, stage="sealed", weight="1 g", rises="2 s/ft") == [
            "give one of weight, displaced, sinks, rises or lies, not weight and rises together; a second [[measured]] "
            "takes the other"
        ]

    @pytest.mark.parametrize(
        ("keys", "words"),
        [
            ({"does": "sinks"}, 'a sinker needs a rate: rate = "4 s/ft"'),
            ({"does": "sinks", "reserve": "3 %"}, 'a sinker has a rate and no reserve: rate = "4 s/ft"'),
            ({"does": "floats"}, "a floater needs either a rate or a reserve"),
            ({"does": "floats", "rate": "2 s/ft", "reserve": "3 %"}, "a floater needs either a rate or a reserve"),
            ({"does": "hangs", "rate": "2 s/ft"}, "a lure that hangs has neither rate nor reserve"),
            ({"does": "hangs", "rod": ["80 g", "20 g"]}, "give the lightest and the heaviest cast the rod takes"),
            ({"does": "hangs", "rod": ["80 g"]}, "give the lightest and the heaviest cast the rod takes"),
        ],
    )
    def test_an_aim_is_whole(self, keys: dict[str, object], words: str) -> None:
        assert words in " ".join(words_of(Aim, **keys))

    def test_defaults_are_those_of_the_trade(self) -> None:
        assert Tub() == Tub.model_validate({"stage": "rigged", "temperature": "20 C", "salinity": "0 ppt ± 0.5 ppt"})
        assert Uncertainty().outline_volume == 0.04
        assert Water.model_validate({"temperature": "8 C"}).kind == "fresh"

    def test_lists_in_the_drawer_are_written_one_by_one(self) -> None:
        stock = Stock.model_validate({"hook": [{"size": "1/0", "weight": "4 g"}], "shot": [{"diameter": "3/8 in"}]})
        assert stock.hooks[0].size == "1/0"
        assert stock.shot[0].diameter == pytest.approx(0.375 * INCH)


class TestSegmentNames:
    def test_are_the_maker_s_or_the_usual_ones(self) -> None:
        joints = [{"at": "30 mm", "gap": "1 mm"}, {"at": "60 mm", "gap": "1 mm"}]
        assert design().segment_names == ("body",)
        assert design(joint=joints).segment_names == ("head", "middle 1", "tail")
        assert design(joint=joints, segments=["a", "b", "c"]).segment_names == ("a", "b", "c")

    @pytest.mark.parametrize("count", range(1, 9))
    def test_are_as_many_as_pieces_and_all_different(self, count: int) -> None:
        assert len(set(usual_segment_names(count))) == count


class TestRows:
    def test_every_table_is_walked_and_what_can_be_read_is_read(self) -> None:
        raw = {
            "length": "90 mm",
            "hook": [{"at": "3 mm", "weight": "x"}, 7],
            "wood": 3,
            "stock": {"shot": [{"count": 3}]},
        }
        found = list(rows(Design, raw))
        assert [row.path for row in found] == [(), ("hook", 0), ("stock",), ("stock", "shot", 0)]
        assert readable(found[0]) == {"length": pytest.approx(0.09)}
        assert readable(found[1]) == {"at": pytest.approx(0.003)}
        assert readable(found[3]) == {"count": 3}

    def test_values_are_quoted_back_short(self) -> None:
        assert [shown(value) for value in (True, 3, 2.5, "x", [], {}, "y" * 61)] == [
            "true", "3", "2.5", "'x'", "a list", "a table", "'" + "y" * 40 + "...'",
        ]  # fmt: skip
        assert shown(10**5000) == "a number that long"

    def test_lists_are_said(self) -> None:
        assert [listed(["a"]), listed(["a", "b"]), listed(["a", "b", "c"], "and")] == ["a", "a or b", "a, b and c"]


def every_key() -> list[tuple[str, str, Kind | None]]:
    """Header, key and kind of every key of a design."""

    def walk(table: type[Table], header: str, name: str) -> list[tuple[str, str, Kind | None]]:
        found: list[tuple[str, str, Kind | None]] = []
        for key, field in written_keys(table).items():
            inner = table_in(field)
            if inner is None:
                mark = mark_of(field)
                found.append((header, key, mark if isinstance(mark, Kind) else None))
            else:
                path = f"{name}.{key}" if name else key
                found += walk(inner, f"[[{path}]]" if takes_list(field) else f"[{path}]", path)
        return found

    return walk(Design, "At the top", "")


class TestDocs:
    def sections(self) -> dict[str, str]:
        parts = re.split(r"^## ", DOCS.read_text(encoding="utf-8"), flags=re.MULTILINE)
        return {part.splitlines()[0].strip("` "): part for part in parts[1:]}

    @pytest.mark.parametrize(
        ("header", "key", "kind"), every_key(), ids=lambda value: str(getattr(value, "name", value))
    )
    def test_every_key_stands_in_its_table_s_section_with_its_unit(
        self, header: str, key: str, kind: Kind | None
    ) -> None:
        section = self.sections()[header]
        row = next((line for line in section.splitlines() if line.startswith(f"| `{key}` |")), None)
        assert row is not None
        cells = [cell.strip() for cell in row.strip("|").split(" | ")]
        assert len(cells) == 4, row
        assert all(cells)
        if kind is not None:
            assert any(unit in kind.factors for unit in re.findall(r"[^\s\"]+", cells[1].replace("`", "")))

    def test_no_row_tells_of_a_key_there_is_not(self) -> None:
        known = {(header, key) for header, key, _ in every_key()}
        for header, section in self.sections().items():
            for key in re.findall(r"^\| `(\w+)` \|", section, flags=re.MULTILINE):
                assert (header, key) in known

    def test_every_stage_is_told(self) -> None:
        text = DOCS.read_text(encoding="utf-8")
        assert all(f"| `{stage}` |" in text or f"`{stage}`" in text for stage in STAGES)

    def test_every_whole_example_in_it_can_be_read(self) -> None:
        blocks = re.findall(r"```toml\n(.*?)```", DOCS.read_text(encoding="utf-8"), flags=re.DOTALL)
        whole = [block for block in blocks if block.startswith("name =")]
        assert whole
        for block in whole:
            parse(block, "the example")


@pytest.mark.parametrize(("kind", "told", "is_"), [
    ("eye", None, "twisted"), ("screw eye", None, "threaded"), ("tow eye", None, "threaded"), ("pin", None, "threaded"),
    ("eye", "plain", "plain"), ("eye", "threaded", "threaded"), ("screw eye", "twisted", "twisted"),
])  # fmt: skip
def test_an_eye_bent_of_wire_is_twisted_where_its_maker_does_not_say(kind: str, told: str | None, is_: str) -> None:
    given = {"name": "one", "kind": kind, "weight": "1 g", "material": "steel", "at": "10 mm"}
    assert Fitting.model_validate(given | ({"shank_is": told} if told else {})).shank_is == is_
