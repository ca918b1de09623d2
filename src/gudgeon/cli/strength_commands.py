"""The command that tells what holds. Heavy imports stay inside, so that --help answers at once."""

import typer

from gudgeon.cli.opening import Colour, ColourOption, DesignPath, JsonOption, Units, UnitsOption, opened


def add_strength_commands(app: typer.Typer) -> None:
    """Give the app the command that follows a fish's pull."""
    app.command("strength", help=f"{strength.__doc__}")(strength)


def strength(
    file: DesignPath,
    units: UnitsOption = Units.METRIC,
    json: JsonOption = False,
    color: ColourOption = Colour.AUTO,
) -> None:
    """What lets go first: each hook's pull followed through eyes, wood and hinges to the line.

    Example:  gudgeon strength examples/lanternmere.toml
    """
    from gudgeon.answers.assembly import assemble
    from gudgeon.answers.strength import strength as followed
    from gudgeon.report.rows import Shop
    from gudgeon.report.strength_text import show_strength, strength_json

    with opened(file) as design_file:
        answer = followed(design_file.design, assemble(design_file.design))
    if json:
        print(strength_json(answer, Shop(units.value), design_file.stamp))
    else:
        show_strength(answer, Shop(units.value), design_file.stamp, color.value)
