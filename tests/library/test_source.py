"""Every table can be read, and every row says where it comes from."""

import re
from pathlib import Path

import pytest

import gudgeon.library.source as source_module
from gudgeon.library.source import Source, figure, source_of, table

TABLES = sorted(path.stem for path in Path(source_module.__file__).parent.glob("*.csv"))


def test_the_tables_are_there() -> None:
    assert {"woods", "materials", "drills", "wires", "hooks", "finishes", "coefficients", "cautions"} <= set(TABLES)


@pytest.mark.parametrize("name", TABLES)
def test_every_row_has_every_cell_and_says_how_it_is_known(name: str) -> None:
    rows = table(name)
    assert rows
    for row in rows:
        assert None not in row, f"{name}: a row has more cells than the head"
        assert None not in row.values(), f"{name}: a row has fewer cells than the head"
        assert row["how_known"], f"{name}: {row}"
        assert row.get("source") or row["how_known"].startswith(("from memory", "common practice"))


@pytest.mark.parametrize("name", TABLES)
def test_no_row_names_a_web_page_or_a_path(name: str) -> None:
    for row in table(name):
        told = " ".join(row[column] for column in row if column.endswith(("source", "where", "how_known")))
        assert not any(sign in told for sign in ("http", "www", ".com", ".org", ".uk", ".nz"))
        assert not re.search(r"(?:^|\s)/\w+", told), f"{name}: a folder of a machine: {told}"


def test_a_source_reads_as_work_and_place() -> None:
    assert str(Source("A book", "p. 3", "read")) == "A book, p. 3"
    assert str(Source("A book", "", "read")) == "A book"


def test_a_part_of_a_row_may_have_its_own_place() -> None:
    row = {"source": "A book", "where": "p. 3", "how_known": "read"}
    row |= {"shrinkage_where": "p. 9", "shrinkage_how_known": "so"}
    assert source_of(row, "shrinkage_") == Source("A book", "p. 9", "so")


def test_an_empty_cell_is_no_number() -> None:
    assert figure("") is None
    assert figure("0.5") == 0.5
