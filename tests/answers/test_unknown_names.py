"""Names that no table knows: told with what cannot be read, at the same places as where the design is built."""

from pathlib import Path

import pytest

from gudgeon.answers.assembly import assemble
from gudgeon.answers.unknown_names import with_unknown_names
from gudgeon.design.file import parse
from gudgeon.errors import BadDesign

EXAMPLES = Path(__file__).parents[2] / "examples"
SLIPS = {'material = "': 'material = "x-', 'species = "': 'species = "popler-'}


def refused(text: str) -> BadDesign:
    with pytest.raises(BadDesign) as caught:
        assemble(parse(text))
    return caught.value


@pytest.mark.parametrize("name", ["diver", "glider", "lanternmere"])
def test_they_are_the_names_that_the_assembly_does_not_find(name):
    """Every material and the wood spelt wrong, in a file that reads: the same places, and the same words."""
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for right, slip in SLIPS.items():
        text = text.replace(f"\n{right}", f"\n{slip}")
    built = {(fault.place, fault.words) for fault in refused(text).faults}
    found = with_unknown_names(BadDesign("the design cannot be built", []), text, "the design")
    assert built
    assert {(fault.place, fault.words) for fault in found.faults} == built
    assert all(fault.line for fault in found.faults)


def test_all_faults_of_a_file_are_told_at_once():
    text = (EXAMPLES / "diver.toml").read_text(encoding="utf-8")
    for right, slip in (('species = "', 'species = "popler'), ('bore = "', 'bore = "7,'), ('angle = "', 'angle = "a')):
        assert right in text
        text = text.replace(right, slip, 1)
    first = refused(text)
    assert not any("popler" in fault.words for fault in first.faults)
    whole = with_unknown_names(first, text, "diver.toml")
    assert sum("popler" in fault.words for fault in whole.faults) == 1
    assert set(first.faults) < set(whole.faults)
    lines = [fault.line for fault in whole.faults]
    assert lines == sorted(lines)


def test_a_name_whose_weight_is_told_is_not_looked_up():
    text = '[[hook]]\nsize = "99/9"\nweight = "2 g"\n[[coat]]\nmaterial = "x"\ndensity = "1 g/cm3"\n'
    nothing = BadDesign("it cannot be built", [])
    assert with_unknown_names(nothing, text, "a").faults == ()
    without = text.replace('weight = "2 g"\n', "")
    assert [fault.place for fault in with_unknown_names(nothing, without, "a").faults] == ["hook 1.size"]


def test_what_is_no_toml_is_left_as_it_is():
    refusal = BadDesign("it cannot be read", [])
    assert with_unknown_names(refusal, "[[hook", "a") is refusal
