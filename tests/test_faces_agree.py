"""Every face shows the same rows: the terminal, the object for programs, and the paper."""

import io
import json
import re
import subprocess
import sys
from pathlib import Path

import pdfplumber
import pytest

from gudgeon.answers.check import check
from gudgeon.design.file import load
from gudgeon.report.check_rows import check_rows, headline
from gudgeon.report.rows import Shop

ROOT = Path(__file__).parents[1]
EXAMPLES = [("lanternmere", Shop.METRIC), ("lanternmere", Shop.INCH), ("glider", Shop.METRIC),
            ("glider-weighed", Shop.INCH), ("diver", Shop.METRIC)]  # fmt: skip


def run(*arguments: str) -> str:
    done = subprocess.run([sys.executable, "-m", "gudgeon.cli.main", *arguments], capture_output=True, text=True,
                          encoding="utf-8", check=False, cwd=ROOT)  # fmt: skip
    assert done.returncode == 0, done.stderr
    return done.stdout


def plain(text: str) -> str:
    """Words without the spaces and line ends that laying out puts between them."""
    return re.sub(r"\s+", "", text)


@pytest.mark.parametrize(("name", "shop"), EXAMPLES)
def test_every_row_is_on_the_terminal_in_the_object_and_on_paper(name, shop, tmp_path):
    path = f"examples/{name}.toml"
    answer = check(load(ROOT / path))
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
    with pdfplumber.open(io.BytesIO(paper.read_bytes())) as pages:
        read = [page.extract_text() for page in pages.pages]
        for page in pages.pages[:2]:  # the summary, down one column after the other
            middle = 0.5 * (page.width + 10.0 * 72.0 / 25.4)
            read += [page.crop(box).extract_text() for box in ((0, 0, middle, page.height),
                                                               (middle, 0, page.width, page.height))]  # fmt: skip
        text = plain("".join(read))
    assert plain(headline(answer, shop)) in text
    for row in rows:
        assert plain(row.shown) in text, row.name
