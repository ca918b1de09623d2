"""Commands on the joints of a drawn lure: how far they turn, and where cuts may go."""

from typing import Annotated

import typer

from gudgeon.cli.opening import Colour, ColourOption, DesignPath, JsonOption, Units, UnitsOption, opened


def add_joint_commands(app: typer.Typer) -> None:
    """Give the app the commands on joints."""
    app.command("joints", help=f"{joints.__doc__}")(joints)
    app.command("cuts", help=f"{cuts.__doc__}")(cuts)


def joints(
    file: DesignPath, units: UnitsOption = Units.METRIC, json: JsonOption = False, color: ColourOption = Colour.AUTO
) -> None:
    """How far each joint turns before wood meets wood, and what to change.

    With coats on and in bare wood; what meets what and where; the gap or the bevel that gives the swing wanted; where a
    knuckle's pivot belongs.

    Example:  gudgeon joints examples/lanternmere.toml
    """
    from gudgeon.answers.assembly import assemble
    from gudgeon.answers.jointing import jointing
    from gudgeon.report.joint_rows import joint_headline, joint_rows
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import show, told_of

    shop = Shop(units.value)
    with opened(file) as design_file:
        answer = jointing(design_file.design, assemble(design_file.design))
    warnings = told_of(answer.findings, shop)
    show(joint_rows(answer, shop), joint_headline(answer, shop), warnings, json, color=color.value)


def cuts(
    file: DesignPath,
    pieces: Annotated[
        int | None, typer.Option("--pieces", help="2 to 5; as many as are drawn when left out, or 3.")
    ] = None,
    units: UnitsOption = Units.METRIC,
    json: JsonOption = False,
    color: ColourOption = Colour.AUTO,
) -> None:
    """Where the cuts may go: your own places, and the trade's habits with their ranges.

    What each costs of the depth, and the room it leaves for hinge and hanger.

    Example:  gudgeon cuts examples/lanternmere.toml --pieces 3
    """
    from gudgeon.answers.assembly import assemble
    from gudgeon.answers.cut_places import cut_places
    from gudgeon.report.joint_rows import cut_headline, cut_rows, cut_warnings
    from gudgeon.report.rows import Shop
    from gudgeon.report.text import show

    shop = Shop(units.value)
    with opened(file) as design_file:
        design = design_file.design
        drawn = len(design.joints) + 1
        proposals = cut_places(design, assemble(design), pieces if pieces is not None else drawn if drawn > 1 else 3)
    show(cut_rows(proposals, shop), cut_headline(proposals, shop), cut_warnings(proposals, shop), json,
         color=color.value)  # fmt: skip
