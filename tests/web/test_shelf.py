"""The shop's folder: its designs by their names, and no way out of it."""

import os

import pytest

from gudgeon.errors import BadDesign, Refusal
from gudgeon.web.shelf import Shelf, form_outlines

TRICKS = ["../secret.toml", "..", "sub/inner.toml", "/etc/passwd", "C:\\x.toml", "a\\b.toml", ".hidden.toml", "x.txt",
          "", "con.toml", "LPT1.toml", "a\x00.toml", "a\n.toml", "x" * 100 + ".toml", "..toml", "small.toml/",
          "./small.toml", "http://x.toml", "a:b.toml", "*.toml", "%2e%2e%2fsecret.toml"]  # fmt: skip


@pytest.fixture
def folder(tmp_path, small):
    shop = tmp_path / "shop"
    (shop / "sub").mkdir(parents=True)
    (tmp_path / "secret.toml").write_text(small)
    for name in ("small.toml", "other lure.toml", ".hidden.toml", "notes.txt", "sub/inner.toml"):
        (shop / name).write_text(small)
    (shop / "folder.toml").mkdir()
    return shop


def test_it_shows_the_designs_that_lie_in_it(folder):
    assert Shelf(folder).names() == ["other lure.toml", "small.toml"]


@pytest.mark.parametrize("name", TRICKS)
def test_no_name_leads_out_of_it(folder, name, small):
    shelf = Shelf(folder)
    with pytest.raises(BadDesign, match="cannot be opened"):
        shelf.desk(name)
    if not name.endswith(".txt") and name:
        with pytest.raises(BadDesign):
            shelf.begin(name, small)
    assert sorted(path.name for path in folder.parent.rglob("*.toml")) == sorted(
        ["secret.toml", "small.toml", "other lure.toml", ".hidden.toml", "inner.toml", "folder.toml"])  # fmt: skip


@pytest.mark.skipif(os.name != "posix", reason="links")
def test_a_link_leads_nowhere_outside(folder):
    (folder / "link.toml").symlink_to(folder.parent / "secret.toml")
    (folder / "near.toml").symlink_to(folder / "small.toml")
    shelf = Shelf(folder)
    assert "link.toml" not in shelf.names()
    with pytest.raises(BadDesign):
        shelf.desk("link.toml")
    assert shelf.desk("near.toml").state.text


def test_a_design_is_on_one_desk_however_often_it_is_asked_for(folder):
    shelf = Shelf(folder)
    assert shelf.desk("small.toml") is shelf.desk("small.toml")
    shelf.close()


def test_a_new_design_is_begun_and_none_is_written_over(folder, small):
    shelf = Shelf(folder)
    assert shelf.begin_form("My walker", "walker", "4 1/2 in", "inch") == "My walker.toml"
    assert "4 1/2 in" in (folder / "My walker.toml").read_text()
    for refused in (lambda: shelf.begin_form("small", "walker", "", "metric"),
                    lambda: shelf.begin_form("x", "whale", "", "metric"),
                    lambda: shelf.begin_form("x", "walker", "3 m", "metric"),
                    lambda: shelf.begin_form("x", "walker", "long", "metric")):  # fmt: skip
        with pytest.raises(Refusal):
            refused()
    assert (folder / "small.toml").read_text() == small
    assert not (folder / "x.toml").exists()


def test_a_folder_that_is_gone_shows_nothing(tmp_path):
    assert Shelf(tmp_path / "gone").names() == []


def test_every_form_has_its_outline():
    forms = form_outlines()
    assert len(forms) == 6
    for form in forms:
        stations = form["side"][0::2]
        assert min(stations) == pytest.approx(0.0, abs=0.5)
        assert max(stations) == pytest.approx(form["length"], abs=0.5)
