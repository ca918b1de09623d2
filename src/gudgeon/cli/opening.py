"""What every command on a drawn lure takes, and how its file is opened."""

from collections.abc import Iterator
from contextlib import contextmanager
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from gudgeon.design.file import DesignFile


class Units(StrEnum):
    """Whose units are shown."""

    METRIC = "metric"
    INCH = "inch"


class Colour(StrEnum):
    """When to colour."""

    AUTO = "auto"
    ALWAYS = "always"
    NEVER = "never"


class Paper(StrEnum):
    """The sheet in the printer."""

    A4 = "A4"
    LETTER = "Letter"


DesignPath = Annotated[Path, typer.Argument(metavar="FILE", help="The design file.")]
UnitsOption = Annotated[
    Units, typer.Option("--units", help="Show millimetres, or inches; ballast is in grams in both.")
]
ColourOption = Annotated[Colour, typer.Option("--color", help="Colour the answer: auto is only on a terminal.")]
JsonOption = Annotated[bool, typer.Option("--json", help="One object with rows, for a program.")]


@contextmanager
def opened(path: Path) -> "Iterator[DesignFile]":
    """A design file to ask something of; faults of meaning found on the way are told with their lines.

    Where it cannot be read, names that no table knows are told with what cannot.
    """
    from gudgeon.design.file import located, open_design, text_of
    from gudgeon.errors import BadDesign

    try:
        file = open_design(path)
    except BadDesign as refusal:
        from gudgeon.answers.unknown_names import with_unknown_names

        if not any(fault.line for fault in refusal.faults):
            raise  # the file itself cannot be opened
        raise with_unknown_names(refusal, text_of(path), path.name) from None
    try:
        yield file
    except BadDesign as refusal:
        raise located(refusal, file) from None
