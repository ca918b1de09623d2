"""Cautions against the rules they speak of."""

import pytest

from gudgeon.library.cautions import cautions_for, lead_law_notes


@pytest.mark.source("Control of Pollution (Anglers' Lead Weights) Regulations 1986, SI 1986/1992; public summaries",
                    where="mass bands: 0.06 to 28.35 g, 50 g, 1/2 oz, 1 oz")  # fmt: skip
def test_five_grams_of_lead() -> None:
    notes = {note.place: note for note in lead_law_notes(0.005)}
    told = " ".join(notes)
    for place in ("Great Britain", "Canada", "New Hampshire", "Vermont", "European Union"):
        assert place in told
    assert notes["Great Britain"].least == pytest.approx(0.06e-3)
    assert notes["Great Britain"].most == pytest.approx(28.35e-3)
    assert "phased in" in notes["European Union"].rule
    assert any("check your local law" in caution.words for caution in cautions_for(["lead law"]))


@pytest.mark.source("Directive (EU) 2017/2398; NIOSH recommended exposure limit", where="wood dust")
def test_hardwood_dust() -> None:
    told = " ".join(f"{caution.words} {caution.source}" for caution in cautions_for(["wood dust"]))
    for words in ("2 mg/m3", "January 2023", "2017/2398", "1 mg/m3"):
        assert words in told
    assert "2019/130" not in told
