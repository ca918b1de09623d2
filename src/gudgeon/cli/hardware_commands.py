"""The command on what is hung and buried: hinges, hooks, clashes."""

import typer

from gudgeon.cli.opening import Colour, ColourOption, DesignPath, JsonOption, Units, UnitsOption, opened


def add_hardware_commands(app: typer.Typer) -> None:
    """Give the app the command on hardware."""
    app.command("hardware", help=f"{hardware.__doc__}")(hardware)


def hardware(
    file: DesignPath,
    units: UnitsOption = Units.METRIC,
    json: JsonOption = False,
    color: ColourOption = Colour.AUTO,
) -> None:
    """Hinges, hooks, and what meets what in the wood.

    What each hinge is made of and what to bore and slot for it; whether hooks can catch each other, the tow eye, the
    lip or the fin, joints folded either way; what in the wood meets something else, where, and what to move.

    Example:  gudgeon hardware examples/lanternmere.toml
    """
    from gudgeon.answers.assembly import assemble
    from gudgeon.answers.ballasting import ballasting
    from gudgeon.answers.rigging import rigging
    from gudgeon.report.hardware_rows import hardware_headline, hardware_sections
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import show_sections, told_of

    shop = Shop(units.value)
    with opened(file) as design_file:
        design = design_file.design
        lure = assemble(design)
        ballast = ballasting(design, lure) if any(pocket.free for pocket in design.pockets) else None
        answer = rigging(design, ballast.lure if ballast else lure, ballast.pockets if ballast else ())
    warnings = told_of(answer.findings, shop)
    sections = hardware_sections(answer, design.segment_names, shop)
    show_sections(sections, hardware_headline(answer), warnings, json, color=color.value)
