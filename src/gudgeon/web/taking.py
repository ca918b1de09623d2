"""What is taken away from the page: papers as a PDF, shapes for other programs, the design file itself."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Literal

from gudgeon.answers.checked import Check
from gudgeon.answers.overall import overall
from gudgeon.answers.papers import papers
from gudgeon.design.file import parse
from gudgeon.errors import BadDesign, Fault
from gudgeon.report import sheets as drawn
from gudgeon.report.exchange import exported, kind_of
from gudgeon.report.rows import Shop
from gudgeon.units import LENGTH, read
from gudgeon.web.desk import State

Asked = Mapping[str, str]
_MEDIA = {"stl": "model/stl", "3mf": "model/3mf", "dxf": "image/vnd.dxf", "svg": "image/svg+xml",
          "step": "model/step"}  # fmt: skip


@dataclass(frozen=True)
class Taken:
    """A file to be saved by the browser."""

    name: str
    media: str
    content: bytes


def taken(what: str, state: State, file: str, asked: Asked) -> Taken:
    """A file made of what lies on the desk, saved or not.

    what   : "sheets", "export" or "design"
    file   : name of the design file
    asked  : paper, units, bar of sheets; kind, piece, finished, units of an export
    raises : Refusal, in words for the maker
    """
    makers: Mapping[str, Callable[[State, str, Asked], Taken]] = {
        "sheets": _sheets, "export": _export, "design": _design}  # fmt: skip
    if what not in makers:
        raise BadDesign("this cannot be taken away", [Fault(what[:40], f"there are {', '.join(makers)}")])
    return makers[what](state, file, asked)


def _design(state: State, file: str, asked: Asked) -> Taken:
    del asked
    return Taken(file, "application/toml", state.text.encode())


def _checked(state: State, file: str) -> Check:
    return overall(parse(state.text, file))


def _shop(asked: Asked) -> Shop:
    return Shop.INCH if asked.get("units") == "inch" else Shop.METRIC


def _sheets(state: State, file: str, asked: Asked) -> Taken:
    bar = asked.get("bar", "").strip()
    correction = drawn.correction_for(read(bar, LENGTH)) if bar else 1.0
    paper: Literal["A4", "Letter"] = "Letter" if asked.get("paper") == "Letter" else "A4"
    pages = drawn.sheets(papers(_checked(state, file)), stamp=state.stamp, shop=_shop(asked), paper=paper,
                         correction=correction, date=date.today())  # fmt: skip
    return Taken(f"{_stem(file)}.pdf", "application/pdf", pages)


def _export(state: State, file: str, asked: Asked) -> Taken:
    kind = kind_of(f"x.{asked.get('kind', '')}")
    made = exported(_checked(state, file), kind, stamp=state.stamp, finished=asked.get("finished") == "yes",
                    piece=asked.get("piece", ""), shop=_shop(asked))  # fmt: skip
    return Taken(f"{_stem(file)}.{kind}", _MEDIA[kind], made.content)


def _stem(file: str) -> str:
    return file.removesuffix(".toml")
