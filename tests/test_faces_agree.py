"""Every face shows the same rows: the terminal, the object for programs, and the paper."""

import io
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pdfplumber
import pytest
from typer.testing import CliRunner

from gudgeon.answers.check import check
from gudgeon.cli.main import app
from gudgeon.design.file import load
from gudgeon.report.check_rows import check_rows, headline
from gudgeon.report.rows import Shop

ROOT = Path(__file__).parents[1]
EXAMPLES = ["lanternmere", "diver", "glider", "glider-weighed"]


def run(*arguments: str) -> str:
    done = CliRunner().invoke(app, arguments)
    assert done.exit_code == 0, done.output
    return done.stdout


def plain(text: str) -> str:
    """Words without the spaces and line ends that laying out puts between them."""
    return re.sub(r"\s+", "", text)


def read(content: bytes) -> Iterator[str]:
    """What papers say: the summary down one column after the other, then page by page."""
    with pdfplumber.open(io.BytesIO(content)) as pdf:
        for page in pdf.pages[:2]:
            middle = 0.5 * (page.width + 10.0 * 72.0 / 25.4)
            for box in ((0, 0, middle, page.height), (middle, 0, page.width, page.height)):
                yield page.crop(box).extract_text()
        for page in pdf.pages:
            yield page.extract_text()


@pytest.mark.parametrize("name", EXAMPLES)
@pytest.mark.parametrize("shop", list(Shop))
def test_every_row_is_on_the_terminal_in_the_object_and_on_paper(name, shop, tmp_path):
    path = str(ROOT / "examples" / f"{name}.toml")
    answer = check(load(Path(path)))
    rows = check_rows(answer, shop)

    terminal = plain(run("check", path, "--units", shop.value))
    assert plain(headline(answer, shop)) in terminal
    for row in rows:
        assert plain(row.shown) in terminal, row.name

    told = json.loads(run("check", path, "--units", shop.value, "--json"))
    assert told["rows"] == [row.as_json() for row in rows]
    assert told["headline"] == headline(answer, shop)

    paper = tmp_path / f"{name}.pdf"
    run("sheets", path, "--out", str(paper), "--units", shop.value)
    wanted = {"headline": plain(headline(answer, shop)), **{row.name: plain(row.shown) for row in rows}}
    text = ""
    for words in read(paper.read_bytes()):  # of its pages no more than all stands on
        text += plain(words)
        wanted = {name: shown for name, shown in wanted.items() if shown not in text}
        if not wanted:
            break
    assert wanted == {}
