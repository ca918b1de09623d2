"""The command that makes an outline of a picture or a drawing: trace."""

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from gudgeon.cli.opening import Colour, ColourOption, JsonOption, Units, UnitsOption
from gudgeon.cli.option_reading import STAND_IN, OptionReader
from gudgeon.units import LENGTH

if TYPE_CHECKING:
    from gudgeon.answers.finding import Finding
    from gudgeon.answers.outline_fit import DrawnOutline
    from gudgeon.answers.starting import Shop as Ruler
    from gudgeon.answers.tracing import KnownLength, Marks, Traced

_SPOT = "pixels from the picture's upper left corner, right and down"


def add_trace_command(app: typer.Typer) -> None:
    """Give the app the command that traces."""
    app.command("trace", help=f"{trace.__doc__}")(trace)


def trace(
    picture: Annotated[Path, typer.Argument(metavar="PICTURE", help="A photo or scan: .jpg, .png or .webp.")],
    known: Annotated[str | None, typer.Option(help="A length in it that you know: '100 mm' (± 0.3 mm).")] = None,
    from_: Annotated[str | None, typer.Option("--from", help=f"Where that begins, '240,655': {_SPOT}.")] = None,
    to: Annotated[str | None, typer.Option("--to", help="Where it ends, '1040,655'.")] = None,
    nose: Annotated[str | None, typer.Option(help="The nose tip, '120,340'; near it will do.")] = None,
    tail: Annotated[str | None, typer.Option(
        help="The tail end of the body; on a fish, where the wood is to end.")] = None,
    across: Annotated[str | None, typer.Option(
        help="A second known length, square to the first: shows a tilt.")] = None,
    across_from: Annotated[str | None, typer.Option("--across-from", help="Where that begins.")] = None,
    across_to: Annotated[str | None, typer.Option("--across-to", help="Where it ends.")] = None,
    belly_up: Annotated[bool, typer.Option("--belly-up", help="The belly is the upper side in the picture.")] = False,
    above: Annotated[bool, typer.Option("--above", help="It was taken from above: half-widths, for --into.")] = False,
    length: Annotated[str | None, typer.Option(help="Make it so long; as long as it is traced when left out.")] = None,
    width: Annotated[str | None, typer.Option(
        help="Widest place, from above: '26 mm'; 70 % of the depth when left out.")] = None,
    out: Annotated[Path | None, typer.Option("--out", help="A new design file to write with this outline.")] = None,
    form: Annotated[str, typer.Option(help="With the cuts and hardware of this body form (gudgeon new).")] = "",
    into: Annotated[Path | None, typer.Option("--into", help="Or a design file whose outline it becomes.")] = None,
    units: UnitsOption = Units.METRIC, json: JsonOption = False, color: ColourOption = Colour.AUTO,
) -> None:  # fmt: skip
    """An outline from a photo of a template, a blank or a fish.

    One length in the picture must be known, as on a rule laid beside it; nose and tail are marked. Told are its
    size with ±, the points that draw it, and whether shadow or a tilt spoils it. Nothing leaves this machine.

    \b
    Example:
      gudgeon trace examples/template.jpg --known "100 mm" \\
        --from 240,655 --to 1040,655 \\
        --nose 107,330 --tail 1299,330 --out mine.toml
    """
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import show
    from gudgeon.report.trace_rows import trace_laid

    reader = OptionReader()
    marks = _marks(reader, (known, from_, to), nose, tail, (across, across_from, across_to), belly_up)
    long, wide = reader.value("--length", length, LENGTH), reader.value("--width", width, LENGTH)
    _check_ways(reader, out, into, form, wide, above)
    reader.done("trace")
    content = _content(picture)
    ruler: Ruler = "mm" if units is Units.METRIC else "in"
    answer = _traced(content, marks, ruler, above=above)
    drawn = answer.drawn if long is None else _made(answer, long, ruler)
    answer = replace(answer, drawn=drawn)
    also: tuple[Finding, ...] = ()
    if out is not None:
        also = _write_new(out, drawn, picture.name, form, wide, ruler)
    if into is not None:
        also = _write_into(into, drawn, ruler, above=above)
    laid = trace_laid(answer, Shop(units.value), also, from_above=above)
    show(laid.rows, laid.headline, laid.warnings, json, color=color.value)
    written = out or into
    if written is not None and not json:
        print(f"\n{written} is written. Look at it with: gudgeon open {written}")


Written = tuple[str | None, str | None, str | None]


def _marks(reader: OptionReader, known: Written, nose: str | None, tail: str | None, across: Written,
           belly_up: bool) -> "Marks":  # fmt: skip
    from gudgeon.answers.tracing import Marks

    scale = _known(reader, ("--known", "--from", "--to"), known)
    second = _known(reader, ("--across", "--across-from", "--across-to"), across) if any(across) else None
    ends = [_spot(reader, place, text, example)
            for place, text, example in (("--nose", nose, "120,340"), ("--tail", tail, "1290,352"))]  # fmt: skip
    return Marks(scale, ends[0], ends[1], second, belly_up)


def _known(reader: OptionReader, places: tuple[str, str, str], given: Written) -> "KnownLength":
    from gudgeon.answers.tracing import KnownLength

    length = reader.needed(places[0], given[0], LENGTH, "100 mm")
    first, second = (_spot(reader, place, text, example)
                     for place, text, example in zip(places[1:], given[1:], ("240,655", "1040,655"),
                                                     strict=True))  # fmt: skip
    return KnownLength(length, first, second)


def _spot(reader: OptionReader, place: str, text: str | None, example: str) -> tuple[float, float]:
    """A place in the picture [pixels]."""
    from gudgeon.units import number

    if text is None:
        reader.fault(place, f"is needed: {place} {example}")
        return STAND_IN, STAND_IN
    parts = reader.fields(place, text, 2, 2, example)
    found = [reader.look(place, lambda part=part: number(part)) for part in parts]  # type: ignore[misc]
    return (found[0] or 0.0, found[1] or 0.0) if len(found) == 2 else (STAND_IN, STAND_IN)


def _check_ways(reader: OptionReader, out: Path | None, into: Path | None, form: str, width: float | None,
                above: bool) -> None:  # fmt: skip
    from gudgeon.answers.traced_design import known_form

    reader.look("--form", lambda: known_form(form))
    if out is not None and into is not None:
        reader.fault("--out, --into", "give only one of them")
    if above and (out is not None or form or width is not None):
        reader.fault("--above", "gives half-widths to a design that is there: --into mine.toml, without --out, --form "
                                "and --width")  # fmt: skip
    if into is not None and (form or width is not None):
        reader.fault("--into", "changes the outline alone: leave --form and --width out")


def _content(picture: Path) -> bytes:
    """What is in a picture's file, no more of it than is taken."""
    from gudgeon.answers.picture import LARGEST_PICTURE, no_picture

    try:
        with picture.open("rb") as file:
            return file.read(LARGEST_PICTURE + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise no_picture(f"{picture}: the computer will not open it: {reason}") from None


def _traced(content: bytes, marks: "Marks", ruler: "Ruler", *, above: bool) -> "Traced":
    from gudgeon.answers.picture import picture_of
    from gudgeon.answers.traced_design import RULER, STEP
    from gudgeon.answers.tracing import traced

    return traced(picture_of(content), marks, from_above=above, step=STEP[ruler], ruler=RULER[ruler])


def _made(answer: "Traced", long: float, ruler: "Ruler") -> "DrawnOutline":
    from gudgeon.answers.outline_fit import drawn_outline
    from gudgeon.answers.traced_design import RULER, STEP

    return drawn_outline(answer.profile.made(long), step=STEP[ruler], ruler=RULER[ruler])


def _write_new(out: Path, drawn: "DrawnOutline", source: str, form: str, width: float | None,
               ruler: "Ruler") -> "tuple[Finding, ...]":  # fmt: skip
    from gudgeon.answers.traced_design import traced_design
    from gudgeon.design.file import save_new

    text, also = traced_design(drawn, name=out.stem, source=f"Outline traced from {source}.", units=ruler,
                               width=width, form=form)  # fmt: skip
    save_new(out, text)
    return also


def _write_into(into: Path, drawn: "DrawnOutline", ruler: "Ruler", *, above: bool) -> "tuple[Finding, ...]":
    from gudgeon.answers.traced_into import put_outline, put_side, told_of_length
    from gudgeon.design.file import open_design, parse, save

    before = open_design(into)
    also = told_of_length(before.text, drawn, above=above)
    text = (put_side if above else put_outline)(before.text, drawn, ruler)
    parse(text, into.name)
    save(into, text)
    return also
