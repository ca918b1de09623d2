"""The command that makes an outline of a picture or a drawing: trace."""

from collections.abc import Mapping
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
    from gudgeon.answers.traced_drawing import Wanted
    from gudgeon.answers.tracing import KnownLength, Marks, Traced

_SPOT = "pixels from the picture's upper left corner, right and down"


def add_trace_command(app: typer.Typer) -> None:
    """Give the app the command that traces."""
    app.command("trace", help=f"{trace.__doc__}")(trace)


def trace(
    picture: Annotated[Path, typer.Argument(
        metavar="PICTURE", help="A photo or scan (.jpg, .png, .webp), or a drawing at its own size (.svg, .dxf).")],
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
    line: Annotated[str, typer.Option(help="Of a drawing: which outline, by number or name; the largest.")] = "",
    nose_right: Annotated[bool, typer.Option("--nose-right", help="Of a drawing: the nose lies to the right.")] = False,
    length: Annotated[str | None, typer.Option(help="Make it so long; as long as it is traced when left out.")] = None,
    width: Annotated[str | None, typer.Option(
        help="Widest place, from above: '26 mm'; 70 % of the depth when left out.")] = None,
    out: Annotated[Path | None, typer.Option("--out", help="A new design file to write with this outline.")] = None,
    form: Annotated[str, typer.Option(help="With the cuts and hardware of this body form (gudgeon new).")] = "",
    into: Annotated[Path | None, typer.Option("--into", help="Or a design file whose outline it becomes.")] = None,
    units: UnitsOption = Units.METRIC, json: JsonOption = False, color: ColourOption = Colour.AUTO,
) -> None:  # fmt: skip
    """An outline from a photo, or from a drawing.

    Of a template, a blank or a fish. In a photo one length must be known, as on a rule laid beside it; nose and
    tail are marked. Told are its size with ±, the points that draw it, and whether shadow or a tilt spoils it.
    Nothing leaves this machine.

    \b
    Example:
      gudgeon trace examples/template.jpg --known "100 mm" \\
        --from 240,655 --to 1040,655 \\
        --nose 107,330 --tail 1299,330 --out mine.toml
    """
    from gudgeon.answers.traced_drawing import Wanted
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import show
    from gudgeon.report.trace_rows import trace_laid

    reader, content = OptionReader(), _content(picture)
    given = {"--known": known, "--from": from_, "--to": to, "--nose": nose, "--tail": tail, "--across": across,
             "--across-from": across_from, "--across-to": across_to}  # fmt: skip
    asked = _asked(reader, content, given, Wanted(line, nose_right, belly_up, above))
    long, wide = reader.value("--length", length, LENGTH), reader.value("--width", width, LENGTH)
    _check_ways(reader, out, into, form, wide, above)
    reader.done("trace")
    ruler: Ruler = "mm" if units is Units.METRIC else "in"
    answer = _traced(content, asked, ruler, long, above=above)
    also: tuple[Finding, ...] = ()
    if out is not None:
        also = _write_new(out, answer.drawn, picture.name, form, wide, ruler)
    if into is not None:
        also = _write_into(into, answer.drawn, ruler, above=above)
    laid = trace_laid(answer, Shop(units.value), also, from_above=above)
    show(laid.rows, laid.headline, laid.warnings, json, color=color.value)
    if (written := out or into) is not None and not json:
        print(f"\n{written} is written. Look at it with: gudgeon open {written}")


Given = Mapping[str, str | None]


def _asked(reader: OptionReader, content: bytes, given: Given, wanted: "Wanted") -> "Marks | Wanted":
    """Marks in a picture, or what is wanted of a drawing."""
    from gudgeon.answers.traced_drawing import is_drawing

    if is_drawing(content):
        if marked := [option for option, text in given.items() if text is not None]:
            reader.fault(", ".join(marked), "a drawing has its own size and ends; leave them out")
        return wanted
    if wanted.line or wanted.nose_right:
        reader.fault("--line, --nose-right", "are for drawings; in a picture --nose and --tail say how it lies")
    return _marks(reader, given, wanted.belly_up)


def _marks(reader: OptionReader, given: Given, belly_up: bool) -> "Marks":
    from gudgeon.answers.tracing import Marks

    scale = _known(reader, given, ("--known", "--from", "--to"))
    square = ("--across", "--across-from", "--across-to")
    second = _known(reader, given, square) if any(given[option] for option in square) else None
    ends = [_spot(reader, option, given[option], example)
            for option, example in (("--nose", "120,340"), ("--tail", "1290,352"))]  # fmt: skip
    return Marks(scale, ends[0], ends[1], second, belly_up)


def _known(reader: OptionReader, given: Given, options: tuple[str, str, str]) -> "KnownLength":
    from gudgeon.answers.tracing import KnownLength

    length = reader.needed(options[0], given[options[0]], LENGTH, "100 mm")
    first, second = (_spot(reader, option, given[option], example)
                     for option, example in zip(options[1:], ("240,655", "1040,655"), strict=True))  # fmt: skip
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
    except FileNotFoundError:
        raise no_picture(f"{picture}: there is no such file") from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise no_picture(f"{picture}: the computer will not open it: {reason}") from None


def _traced(content: bytes, asked: "Marks | Wanted", ruler: "Ruler", long: float | None, *, above: bool) -> "Traced":
    from gudgeon.answers.picture import picture_of
    from gudgeon.answers.traced_design import RULER, STEP
    from gudgeon.answers.traced_drawing import Wanted, traced_drawing
    from gudgeon.answers.tracing import traced

    if isinstance(asked, Wanted):
        return traced_drawing(content, asked, long=long, step=STEP[ruler], ruler=RULER[ruler])
    return traced(picture_of(content), asked, long=long, from_above=above, step=STEP[ruler], ruler=RULER[ruler])


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
