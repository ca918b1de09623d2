"""What the windows of a drawing are told, as texts to be sent; gudgeon's own failures too, and drawing goes on."""

import contextlib
import json
import logging
from collections.abc import Callable, Collection, Mapping
from dataclasses import asdict, dataclass
from typing import TypeVar

from gudgeon.design.file import toml_of
from gudgeon.design.lines import marks
from gudgeon.errors import Fault, Refusal
from gudgeon.report.rows import Shop
from gudgeon.web.calls import Json, answers_told, refused, shape_told, weights_told
from gudgeon.web.desk import State

Told = TypeVar("Told")


@dataclass(frozen=True)
class Drawing:
    """A text that lies or lay on a desk.

    file    : name of its design file
    version : grows with every change of the desk
    """

    text: str
    file: str
    stamp: str
    version: int

    @classmethod
    def on(cls, state: State, file: str) -> "Drawing":
        """What lies on the desk of a file."""
        return cls(state.text, file, state.stamp, state.number)

    def as_json(self) -> Json:
        """For another process."""
        return asdict(self)


def weights_texts(drawing: Drawing, shops: Collection[Shop]) -> dict[str, str]:
    """Weights, float line and ballast, by the shops' names; none for a text that is refused."""
    return or_trouble(lambda: {shop.value: _text("weights", drawing, shop, told) for shop, told
                                in weights_told(drawing.text, drawing.file, shops).items()}, lambda _: {})  # fmt: skip


def answer_texts(drawing: Drawing, shops: Collection[Shop]) -> dict[str, str]:
    """Every answer, by the shops' names; a refusal where there is none."""
    def texts(told: Mapping[Shop, Json]) -> dict[str, str]:
        return {shop.value: _text("answer", drawing, shop, found) for shop, found in told.items()}

    return or_trouble(lambda: texts(answers_told(drawing.text, drawing.file, shops)),
                       lambda trouble: texts(dict.fromkeys(shops, trouble)))  # fmt: skip


def shape_text(drawing: Drawing, where: Json) -> str:
    """The outline and the handles, with where the desk stands."""
    def text(told: Json) -> str:
        return json.dumps({"kind": "shape", **where, **told}, allow_nan=False)

    return or_trouble(lambda: text(shape_told(drawing.text, drawing.file)),
                       lambda trouble: text({"written": {}, "text": drawing.text, **trouble}))  # fmt: skip


def ready_to_draw(drawing: Drawing) -> None:
    """What the next stroke needs of this one's text, found out before it comes."""
    with contextlib.suppress(ValueError, RecursionError):  # no TOML
        toml_of(drawing.text)
        marks(drawing.text)


def _text(kind: str, drawing: Drawing, shop: Shop, told: Json) -> str:
    return json.dumps({"kind": kind, "stamp": drawing.stamp, "version": drawing.version, "shop": shop.value, **told},
                      allow_nan=False)  # fmt: skip


def or_trouble(work: Callable[[], Told], else_: Callable[[Json], Told]) -> Told:
    """What some work gives; a failure of gudgeon's own goes to the terminal, and as a refusal to the page."""
    try:
        return work()
    except Exception as error:
        logging.getLogger("gudgeon").exception("this design cannot be answered")
        words = f"{type(error).__name__}: {error}. Take the last stroke back; the terminal tells more"
        found = refused(Refusal("gudgeon itself failed on this drawing", [Fault("gudgeon", words)]))
        return else_({"refused": found})
