"""Design files: read, refused with every fault and its line, stamped, changed without losing a comment, saved whole."""

import os
import stat
import tomllib
from itertools import pairwise
from pathlib import Path

import pytest
import tomlkit
from hypothesis import given, settings
from hypothesis import strategies as st

from gudgeon.design.edits import edit
from gudgeon.design.file import LARGEST, DesignFile, load, located, may_write, open_design, parse, save, stamp
from gudgeon.design.lines import Written, line_of, marks, place_of
from gudgeon.errors import BadDesign, Fault, Refusal

EXAMPLES = Path(__file__).parents[2] / "examples"
PLAIN = """\
# a small floater
name = "Small floater"
length = "90 mm"   # the body

[outline]
back = [
  "0 mm: 0 mm",
  "45 mm: 12 mm",  # highest
  "90 mm: 2 mm",
]
side = ["0 mm: 0 mm", "45 mm: 9 mm", "90 mm: 2 mm"]

[wood]
species = "basswood"  # from the short plank

# --- hooks ---

[[hook]]
name = "front"
size = "6"
at = "30 mm"

[[hook]]
name = "rear"
weight = "1.1 g"   # with ring
at = "80 mm"

[water]
temperature = "15 C"

[aim]
does = "floats"
reserve = "20 %"
"""


def refusal(text: str) -> BadDesign:
    with pytest.raises(BadDesign) as caught:
        parse(text, "plain.toml")
    return caught.value


def faults(text: str) -> dict[str, Fault]:
    return {fault.place: fault for fault in refusal(text).faults}


class TestReading:
    def test_a_good_text_is_read_in_si(self) -> None:
        design = parse(PLAIN)
        assert design.length == pytest.approx(0.09)
        assert design.outline.back[1] == pytest.approx((0.045, 0.012))
        assert design.water.temperature.value == pytest.approx(288.15)
        assert [hook.name for hook in design.hooks] == ["front", "rear"]
        assert design.hooks[1].weight is not None
        assert design.hooks[1].weight.value == pytest.approx(0.0011)

    @pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.toml")), ids=lambda path: path.stem)
    def test_every_example_is_read(self, path: Path) -> None:
        opened = open_design(path)
        assert opened.path == path
        assert opened.design == load(path)
        assert opened.stamp == stamp(opened.text)

    def test_the_demo_lure_is_what_it_says_it_is(self) -> None:
        demo = load(EXAMPLES / "lanternmere.toml")
        assert len(demo.joints) == 3
        assert demo.fin is not None
        assert demo.aim.does == "sinks"
        belly = demo.outline.belly or ()
        assert max(point.out for point in belly) > max(point.out for point in demo.outline.back)
        cuts = [0.0, *(joint.at for joint in demo.joints), demo.length]
        for front, rear in pairwise(cuts[:4]):
            assert any(front < pocket.at < rear for pocket in demo.pockets)

    def test_a_byte_order_mark_and_windows_line_ends_are_read(self, tmp_path: Path) -> None:
        file = tmp_path / "windows.toml"
        file.write_bytes(b"\xef\xbb\xbf" + PLAIN.replace("\n", "\r\n").encode())
        assert open_design(file).design == parse(PLAIN)
        assert open_design(file).stamp == stamp(PLAIN)


class TestStamp:
    def test_is_eight_hexadecimal_figures(self) -> None:
        assert len(stamp(PLAIN)) == 8
        assert int(stamp(PLAIN), 16) >= 0

    def test_changes_with_any_character_and_not_with_line_ends(self) -> None:
        assert stamp(PLAIN) != stamp(PLAIN.replace("90 mm", "91 mm"))
        assert stamp(PLAIN) == stamp(PLAIN.replace("\n", "\r\n"))


class TestFilesThatAreNoDesign:
    def refused(self, path: Path) -> str:
        with pytest.raises(BadDesign) as caught:
            open_design(path)
        assert caught.value.heading == f"{path.name} cannot be read"
        assert len(caught.value.faults) == 1
        return caught.value.faults[0].words

    def test_missing(self, tmp_path: Path) -> None:
        (tmp_path / "swimmer.toml").write_text(PLAIN)
        assert self.refused(tmp_path / "swimer.toml") == "there is no such file; nearest: swimmer.toml"
        assert self.refused(tmp_path / "none" / "x.toml") == "there is no such file"

    def test_a_folder(self, tmp_path: Path) -> None:
        assert self.refused(tmp_path) == "it is a folder; name a design file in it"

    @pytest.mark.parametrize("content", [b"", b"\n \n", b"# nothing but a comment\n"])
    def test_empty(self, tmp_path: Path, content: bytes) -> None:
        file = tmp_path / "empty.toml"
        file.write_bytes(content)
        assert self.refused(file) == "nothing is written in it; `gudgeon new` writes a file to start from"

    @pytest.mark.parametrize(
        "content", [b"\x89PNG\r\n\x1a\n\x00\x00", b"name = '\x00'", PLAIN.encode("utf-16"), b"name = '\xe9'"]
    )
    def test_binary(self, tmp_path: Path, content: bytes) -> None:
        file = tmp_path / "picture.toml"
        file.write_bytes(content)
        assert self.refused(file) == "it is not plain text; save it as text, UTF-8"

    def test_ten_megabytes(self, tmp_path: Path) -> None:
        file = tmp_path / "big.toml"
        file.write_bytes(b"# filler\n" * (10_000_000 // 9))
        assert self.refused(file) == "it is larger than 1 MB; a design is a short text. Is it another file?"

    def test_long_text(self) -> None:
        with pytest.raises(BadDesign, match="longer than 1 MB"):
            parse("#" * (LARGEST + 1))

    def test_unreadable(self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        file = tmp_path / "locked.toml"
        file.write_text(PLAIN)

        def refuse(*_: object, **__: object) -> None:
            raise PermissionError(13, "Permission denied")

        monkeypatch.setattr(Path, "open", refuse)
        assert self.refused(file) == "the computer will not open it: Permission denied"

    def test_a_pipe_is_not_waited_on(self, tmp_path: Path) -> None:
        os.mkfifo(tmp_path / "pipe.toml")
        assert self.refused(tmp_path / "pipe.toml") == "it is no ordinary file"

    def test_a_name_no_file_can_have(self) -> None:
        with pytest.raises(BadDesign, match="cannot be read"):
            open_design("\0.toml")


BAD_LINES = {
    "weight = 12 g": 'a number with its unit goes between quotes: "12 mm"',
    "length = 240mm": 'a number with its unit goes between quotes: "12 mm"',
    "species = cedar": 'words go between quotes: "..."',
    'species "cedar"': 'a key needs an equals sign after it: key = "..."',
    'species = "cedar': 'a quote is missing: text and quantities stand between two of them, "..."',
    "length = “240 mm”": 'the quotes are not plain ones; write " at both ends',
    "fill = 1,5": "write a decimal point, not a comma, and the quantity between quotes",
    "length =": 'nothing stands after the equals sign; write a value: "..."',
    "[[hook]": "a table's name stands alone on its line, in brackets: [wood] or [[hook]]",
    "[water]": "this table stands in the file already; a second one of its kind takes double brackets, [[hook]]",
    'reserve = "3 %"': "this key stands in its table already; keep one",
    'name = "a \\m"': "a backslash cannot stand alone between double quotes; leave it out or write \\\\",
}


class TestTomlSlips:
    @pytest.mark.parametrize(("line", "words"), BAD_LINES.items(), ids=list(BAD_LINES))
    def test_tell_the_line_and_what_would_do(self, line: str, words: str) -> None:
        said = refusal(f"{PLAIN}{line}\n# the end\n")
        assert said.heading == "plain.toml cannot be read"
        assert [fault.words for fault in said.faults] == [words]
        assert said.faults[0].line == PLAIN.count("\n") + 1
        assert said.faults[0].place == f"'{line}'"

    def test_an_open_list_is_told(self) -> None:
        fault = refusal('name = "x"\nspeeds = ["1 kn",\n').faults[0]
        assert str(fault) == "the end of the file: a bracket or a quote is opened and never closed"

    def test_endless_brackets_and_figures_are_refused(self) -> None:
        assert refusal("a = " + "[" * 5000).faults[0].words == "brackets stand inside brackets without end"
        assert refusal("a = " + "9" * 5000).faults[0].words == "a number in it is too long"


class TestFaults:
    def test_all_come_at_once_in_the_order_of_the_file(self) -> None:
        text = (
            PLAIN.replace('"90 mm"   #', "90   #")
            .replace('"45 mm: 12 mm"', '"45 mm: 12 bar"')
            .replace('species = "basswood"', 'specie = "basswood"')
            .replace('weight = "1.1 g"', 'weight = "1.1"')
            .replace('does = "floats"', 'does = "swims"')
            .replace("[water]\ntemperature", "[water]\nkind = 3\ntemperature")
        )
        said = refusal(text)
        assert said.heading == "plain.toml cannot be built"
        assert str(said).splitlines() == [
            "plain.toml cannot be built:",
            "  line 3, length: 90 needs a unit, in quotes: mm or in",
            "  line 8, outline.back point 2: '12 bar': 'bar' is not a unit of an offset; use mm or in",
            "  line 13, wood: give species, density or blank_weight",
            "  line 14, wood.specie: is not a key gudgeon knows; nearest: species",
            "  line 25, hook 2 'rear'.weight: '1.1' needs a unit: g, oz, gr (grains) or lb",
            "  line 29, water.kind: 3 is not one of them; choose fresh, brackish or sea",
            "  line 33, aim.does: 'swims' is not one of them; choose floats, hangs or sinks",
        ]

    def test_no_complaint_speaks_the_programmer_s_language(self) -> None:
        text = PLAIN.replace('"15 C"', "true").replace('size = "6"', "size = 6").replace("[wood]", "[[wood]]")
        said = str(
            refusal(text + 'upright = ["1 %"]\nsegments_alike = "yes"\n[joint]\n[[lip]]\n[[coat]]\ncoats = "2"\n')
        )
        for jargon in ("Value error", "str", "type", "valid", "input", "dict", "tuple", "Field", "None", "instance"):
            assert jargon not in said.replace("straight", "")

    @pytest.mark.parametrize(
        ("old", "new", "place", "words"),
        [
            ('"15 C"', '"15"', "water.temperature", "'15' needs a unit: C or F"),
            ('"15 C"', '"15 g"', "water.temperature", "'15 g': 'g' is not a unit of a temperature; use C or F"),
            ('"15 C"', "nan", "water.temperature", "nan needs a unit, in quotes: C or F"),
            ('"15 C"', '"nan C"', "water.temperature",
             "'nan C' is not a temperature; write a number and a unit: C or F"),
            ('"15 C"', '"900 C"', "water.temperature",
             "'900 C' is too high for a temperature; a slip in the unit or the decimal point?"),
            ('"1.1 g"', '"1,1 g"', "hook 2 'rear'.weight", "'1,1 g': the decimal sign is a point: 1.1 g"),
            ('"1.1 g"', '"-1.1 g"', "hook 2 'rear'.weight", "'-1.1 g' must not be negative"),
            ('"1.1 g"', '"0 g"', "hook 2 'rear'.weight", "'0 g' must be more than 0"),
            ('"1.1 g"', '["1 g", "2 g"]', "hook 2 'rear'.weight",
             "takes one value, not a list: a weight with its unit, g, oz, gr (grains) or lb"),
            ('"1.1 g"', '"' + "1" * 90 + ' g"', "hook 2 'rear'.weight",
             "'" + "1" * 40 + "...' is not a weight; write a number and a unit: g, oz, gr (grains) or lb"),
            ('name = "rear"\n', "", "hook 2.name", 'is missing; give it in quotes: name = "..."'),
            ('at = "80 mm"', "", "hook 2 'rear'.at", "is missing; give a distance with its unit, in quotes: mm or in"),
            ('size = "6"\n', "", "hook 1 'front'",
             "give weight or size; weigh it with its ring, or give a treble's size"),
            ('does = "floats"\n', "", "aim.does", "is missing; choose 'floats', 'hangs' or 'sinks'"),
            ('reserve = "20 %"\n', "", "aim",
             'a floater needs either a rate or a reserve, and not both: reserve = "18 %"'),
            ('reserve = "20 %"', 'reserve = "20 %"\nrod = ["3 oz", "1 oz"]', "aim.rod",
             'give the lightest and the heaviest cast the rod takes: ["20 g", "80 g"]'),
            ('reserve = "20 %"', 'reserve = "20 %"\nspeeds = "2 kn"', "aim.speeds",
             '\'2 kn\' is not a list; write ["1 kn", "2 kn"], in square brackets'),
            ('reserve = "20 %"', 'reserve = "20 %"\nlength = "9 mm"', "aim.length",
             "does not belong in this table; length stands at the top of the file, before the first [table]"),
            ('reserve = "20 %"', 'reserve = "20 %"\nbore = "9 mm"', "aim.bore",
             "does not belong here; bore stands in [[pocket]]"),
            ('"45 mm: 12 mm"', '"45 mm 12 mm"', "outline.back point 2",
             "'45 mm 12 mm' is not a point; write the distance from the nose, a colon, then the size there: "
             '"40 mm: 12 mm"'),
            ("[wood]", "fullness = nan\n[wood]", "outline.fullness",
             "nan is not a number that can be used; an ellipse is 2"),
            ("[wood]", "fullness = 20\n[wood]", "outline.fullness",
             "20 is no fullness; it goes from 1 (a diamond) over 2 (an ellipse) to 12 (a plank)"),
            ("[wood]", 'fullness = "round"\n[wood]', "outline.fullness",
             "'round' is not a list of points; write 2.5, or points: [\"0 mm: 2\", \"40 mm: 2.5\"]"),
            ("[water]", "[[hooks]]\n[water]", "hooks", "is not a key gudgeon knows; write [[hook]] above each hook"),
            ("[aim]", "[[stock.hooks]]\n[aim]", "stock.hooks",
             "is not a key gudgeon knows; write [[stock.hook]] above each"),
            ('[water]\ntemperature = "15 C"\n', "", "water", "the table [water] is missing"),
            ("[water]", "[[water]]", "water", "is one table; write [water] once, in single brackets"),
            ("[aim]", "[coat]\n[aim]", "coat", "is a list of tables; write [[coat]], in double brackets"),
            ("[aim]", 'lip = "long"\n[aim]', "water.lip",
             "does not belong in this table; lip stands at the top of the file, before the first [table]"),
        ],
    )  # fmt: skip
    def test_each_says_where_and_what_would_do(self, old: str, new: str, place: str, words: str) -> None:
        assert old in PLAIN
        assert faults(PLAIN.replace(old, new, 1))[place].words == words

    def test_a_fitting_of_no_kind_is_offered_the_nearest(self) -> None:
        fitting = '[[fitting]]\nname = "x"\nkind = "screweye"\nweight = "1 g"\nmaterial = "steel"\nat = "9 mm"\n'
        assert faults(PLAIN + fitting)["fitting 1 'x'.kind"].words.endswith("nearest: screw eye")


class TestLines:
    def test_of_keys_headers_and_items(self) -> None:
        found = marks(PLAIN)
        assert found["name",].line == 2
        assert found["outline",].line == 5
        assert found["outline", "back"].line == 6
        assert found["outline", "back", 1].line == 8
        assert found["outline", "side", 2].line == 11
        assert found["hook", 1].line == 23
        assert found["hook", 1, "weight"].line == 25
        assert line_of(("hook", 1, "material"), found) == 23
        assert line_of(("lip", "angle"), found) is None

    def test_of_odd_but_lawful_writing(self) -> None:
        text = '''"a b".c = 1
'd' = """
# no comment
x = "1"
"""
e = [ # comment
  [1, 2], { f = 'g', h.i = "]" },
]
[ j . "k" ]
l = 1979-05-27 07:32:00
[[j.m]]
[[j.m]]
[j.m.n]
o = true
'''
        found = marks(text)
        lines = {path: mark.line for path, mark in found.items()}
        assert lines["a b", "c"] == 1
        assert lines["d",] == 2
        assert lines["e",] == 6
        assert lines["e", 1, "h", "i"] == 7
        assert lines["j", "k"] == 9
        assert lines["j", "k", "l"] == 10
        assert text[found["j", "k", "l"].start : found["j", "k", "l"].end] == "1979-05-27 07:32:00"
        assert lines["j", "m", 1] == 12
        assert lines["j", "m", 1, "n", "o"] == 14
        assert found["j", "m", 1, "n"].written is Written.HEADER

    @settings(max_examples=150, deadline=None)
    @given(
        st.recursive(
            st.integers() | st.booleans() | st.text(st.characters(codec="utf-8", exclude_categories=["Cc"])),
            lambda inner: (
                st.lists(inner, max_size=3) | st.dictionaries(st.text("ab.\"' #=é", max_size=4), inner, max_size=3)
            ),
            max_leaves=12,
        )
    )
    def test_every_place_of_any_document_is_found(self, value: object) -> None:
        text = tomlkit.dumps({"top": value, "again": {"deep": value}})

        def paths(here: object, path: tuple[str | int, ...]) -> list[tuple[str | int, ...]]:
            if isinstance(here, dict):
                inner = list(here.items())
            elif isinstance(here, list):
                inner = list(enumerate(here))
            else:
                return [path]
            return [path, *(found for key, item in inner for found in paths(item, (*path, key)))]

        found = marks(text)
        for path in paths(tomllib.loads(text), ())[1:]:
            assert path in found
            line = text.split("\n")[found[path].line - 1]
            assert line.strip() != ""

    def test_places_are_said_as_their_maker_would(self) -> None:
        data = tomllib.loads(PLAIN + 'speeds = ["1 kn"]\n')
        assert place_of(("hook", 1, "weight"), data) == "hook 2 'rear'.weight"
        assert place_of(("outline", "back", 2), data) == "outline.back point 3"
        assert place_of(("aim", "speeds", 0), data) == "aim.speeds item 1"
        assert place_of((), data) == "the file"


class TestLocated:
    def test_a_fault_of_meaning_gets_its_line(self, tmp_path: Path) -> None:
        file = tmp_path / "plain.toml"
        file.write_text(PLAIN)
        meant = BadDesign(
            "x", [Fault("hook 2 'rear'.size", "too big"), Fault("wood.species", "unknown"), Fault("lip", "no")]
        )
        said = located(meant, open_design(file))
        assert str(said).splitlines() == [
            "plain.toml cannot be built:",
            "  line 14, wood.species: unknown",
            "  line 23, hook 2 'rear'.size: too big",
            "  lip: no",
        ]


class TestEdits:
    def changed(self, **changes: object) -> str:
        return edit(PLAIN, {place.replace("__", "."): value for place, value in changes.items()})  # type: ignore[misc]

    @pytest.mark.parametrize(
        ("place", "value", "old", "new"),
        [
            ("length", "95 mm", 'length = "90 mm"   # the body', 'length = "95 mm"   # the body'),
            ("hook.2.weight", "1.3 g", 'weight = "1.1 g"   # with ring', 'weight = "1.3 g"   # with ring'),
            ("outline.back.2", "45 mm: 13 mm", '"45 mm: 12 mm",  # highest', '"45 mm: 13 mm",  # highest'),
            ("wood.species", 'a 5/16" board', 'species = "basswood"', "species = 'a 5/16\" board'"),
            ("wood.species", None, 'species = "basswood"  # from the short plank\n', ""),
            ("wood.density", "0.41 g/cm3", "the short plank\n", 'the short plank\ndensity = "0.41 g/cm3"\n'),
            ("segments", ["body"], 'length = "90 mm"   # the body\n',
             'length = "90 mm"   # the body\nsegments = ["body"]\n'),
            ("outline.fullness", 2.4, '"90 mm: 2 mm"]\n', '"90 mm: 2 mm"]\nfullness = 2.4\n'),
            ("outline.back.4", "92 mm: 1 mm", '  "90 mm: 2 mm",\n', '  "90 mm: 2 mm",\n  "92 mm: 1 mm",\n'),
            ("outline.side.4", "92 mm: 1 mm", ', "90 mm: 2 mm"]', ', "90 mm: 2 mm", "92 mm: 1 mm"]'),
            ("hook.3.name", "tail", 'at = "80 mm"\n', 'at = "80 mm"\n\n[[hook]]\nname = "tail"\n'),
            ("sealer.weight", "2 g", 'reserve = "20 %"\n', 'reserve = "20 %"\n\n[sealer]\nweight = "2 g"\n'),
            ("stock.shot.1.weight", "2 g", 'reserve = "20 %"\n',
             'reserve = "20 %"\n\n[[stock.shot]]\nweight = "2 g"\n'),
        ],
    )  # fmt: skip
    def test_only_the_place_changes(self, place: str, value: object, old: str, new: str) -> None:
        assert edit(PLAIN, {place: value}) == PLAIN.replace(old, new, 1)  # type: ignore[dict-item]

    def test_windows_line_ends_are_kept(self) -> None:
        windows = PLAIN.replace("\n", "\r\n")
        changes = {
            "wood.density": "0.4 g/cc",
            "hook.1.size": "8",
            "outline.back.4": "92 mm: 1 mm",
            "wood.species": None,
        }
        assert edit(windows, changes) == edit(PLAIN, changes).replace("\n", "\r\n")

    def test_a_whole_list_of_the_same_length_keeps_its_comments(self) -> None:
        points = ["0 mm: 0 mm", "45 mm: 14 mm", "90 mm: 3 mm"]
        new = edit(PLAIN, {"outline.back": points})
        assert '"45 mm: 14 mm",  # highest' in new
        assert tomllib.loads(new)["outline"]["back"] == points

    def test_a_new_hook_is_built_key_by_key(self) -> None:
        new = edit(PLAIN, {"hook.3.name": "tail", "hook.3.size": "8", "hook.3.at": "88 mm"})
        assert [hook.name for hook in parse(new).hooks] == ["front", "rear", "tail"]

    @pytest.mark.parametrize(
        ("place", "value", "words"),
        [
            ("hook", "x", "is a table; change its keys one by one"),
            ("hook.4.name", "x", "cannot be changed: there is no such place in the file"),
            ("length.1", "x", "cannot be changed: there is no such place in the file"),
            ("lip.angle", None, "cannot be changed: there is no such place in the file"),
            ("outline.back.1", None, "cannot be taken out by itself; only a key can"),
            ("", "x", 'is no place; write table, number and key with dots between: "hook.2.weight"'),
            ("hook.0.name", "x", 'is no place; write table, number and key with dots between: "hook.2.weight"'),
            ("wood.density", float("nan"), "cannot be changed by itself as it is written there; change it by hand"),
        ],
    )
    def test_a_place_that_is_not_there_is_refused(self, place: str, value: object, words: str) -> None:
        with pytest.raises(BadDesign) as caught:
            edit(PLAIN, {place: value})  # type: ignore[dict-item]
        assert caught.value.heading == "the design cannot be changed"
        assert [fault.words for fault in caught.value.faults] == [words]

    @settings(max_examples=80, deadline=None)
    @given(data=st.data())
    def test_any_value_set_in_an_example_reads_back_and_keeps_every_comment(self, data: st.DataObject) -> None:
        text = (EXAMPLES / "lanternmere.toml").read_text(encoding="utf-8")
        places = [path for path, mark in marks(text).items() if mark.written is Written.VALUE]
        path = data.draw(st.sampled_from(places))
        value = data.draw(st.text(st.characters(codec="utf-8"), max_size=12) | st.integers(-9, 9) | st.booleans())
        new = edit(text, {".".join(str(step + 1) if isinstance(step, int) else step for step in path): value})
        here: object = tomlkit.parse(new).unwrap()
        for step in path:
            here = here[step]  # type: ignore[index]
        assert here == value
        comments = [line.partition("#")[2] for line in text.splitlines() if "#" in line]
        assert all(comment in new for comment in comments if f"{path[-1]}" not in ("back", "belly", "side"))


class TestSaving:
    def test_text_comes_back_as_it_was(self, tmp_path: Path) -> None:
        file = tmp_path / "new.toml"
        text = PLAIN.replace("\n", "\r\n") + "# ± °\r\n"
        save(file, text)
        assert file.read_bytes() == text.encode("utf-8")
        assert os.listdir(tmp_path) == ["new.toml"]

    def test_permissions_of_the_old_file_are_kept(self, tmp_path: Path) -> None:
        file = tmp_path / "old.toml"
        file.write_text("x")
        file.chmod(0o640)
        save(file, PLAIN)
        assert stat.S_IMODE(file.stat().st_mode) == 0o640

    def test_a_link_stays_a_link(self, tmp_path: Path) -> None:
        (tmp_path / "real.toml").write_text("x")
        (tmp_path / "link.toml").symlink_to(tmp_path / "real.toml")
        save(tmp_path / "link.toml", PLAIN)
        assert (tmp_path / "link.toml").is_symlink()
        assert (tmp_path / "real.toml").read_text() == PLAIN

    @pytest.mark.parametrize("step", ["fsync", "replace"])
    def test_a_failure_leaves_the_old_file_and_nothing_else(
        self, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
    ) -> None:
        file = tmp_path / "old.toml"
        file.write_text("the old one")

        def fail(*_: object) -> None:
            raise OSError(28, "No space left on device")

        monkeypatch.setattr(os, step, fail)
        with pytest.raises(BadDesign) as caught:
            save(file, PLAIN)
        assert str(caught.value) == (
            "old.toml cannot be written:\n  the file: No space left on device; nothing was changed"
        )
        assert file.read_text() == "the old one"
        assert os.listdir(tmp_path) == ["old.toml"]

    def test_a_folder_that_is_not_there(self, tmp_path: Path) -> None:
        with pytest.raises(BadDesign, match="cannot be written"):
            save(tmp_path / "none" / "x.toml", PLAIN)


def test_a_design_file_is_frozen(tmp_path: Path) -> None:
    file = tmp_path / "plain.toml"
    file.write_text(PLAIN)
    opened: DesignFile = open_design(file)
    with pytest.raises(AttributeError):
        opened.text = ""  # type: ignore[misc]


@pytest.mark.parametrize(
    ("name", "old", "target", "is_written"),
    [
        ("new.pdf", None, None, True),
        ("old.pdf", b"%PDF-1.4 of last week", None, True),
        ("OLD.PDF", b"%PDF-1.4 of last week", None, True),
        ("begun.pdf", b"", None, True),
        ("mine.toml", b'name = "mine"', None, False),
        ("mine.docx", None, None, False),
        ("named.pdf", b'name = "mine"', None, False),
        ("link.pdf", b'name = "mine"', "mine.toml", False),
    ],
)
def test_papers_go_over_papers_and_over_nothing_else(tmp_path, name, old, target, is_written):
    if old is not None:
        (tmp_path / (target or name)).write_bytes(old)
    if target is not None:
        (tmp_path / name).symlink_to(tmp_path / target)
    if is_written:
        may_write(tmp_path / name, (".pdf",))
    else:
        with pytest.raises(Refusal, match=f"--out: '{name}' is"):
            may_write(tmp_path / name, (".pdf",))
