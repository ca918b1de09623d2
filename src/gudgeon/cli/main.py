"""The gudgeon command: names to commands, and the one place where refusals are told."""

import sys
from typing import Annotated

import typer

from gudgeon.cli.commands import add_design_commands
from gudgeon.cli.hardware_commands import add_hardware_commands
from gudgeon.cli.joint_commands import add_joint_commands
from gudgeon.cli.log_commands import add_log_commands
from gudgeon.cli.mend_commands import add_mend_command
from gudgeon.cli.open_command import add_open_command
from gudgeon.cli.strength_commands import add_strength_commands
from gudgeon.cli.sum_commands import add_sum_commands
from gudgeon.cli.tow_commands import add_tow_commands
from gudgeon.cli.trace_command import add_trace_command
from gudgeon.cli.wood_commands import add_wood_commands
from gudgeon.errors import Refusal

app = typer.Typer(
    name="gudgeon",
    help="The sums behind a hand-made wooden lure: what it displaces and weighs, whether it floats, hangs or sinks, "
    "and the lead that goes in it. Every quantity is written with its unit: 6 1/2 in, 165 mm, 1/2 oz, 0.46 g/cc, 46 F.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def _tell_version(wanted: bool) -> None:
    if wanted:
        from importlib.metadata import version

        print(f"gudgeon {version('gudgeon')}")
        raise typer.Exit()


@app.callback()
def _start(
    version: Annotated[
        bool, typer.Option("--version", callback=_tell_version, is_eager=True, help="Its version.")
    ] = False,
) -> None:
    del version


add_design_commands(app)
add_joint_commands(app)
add_hardware_commands(app)
add_strength_commands(app)
add_wood_commands(app)
add_trace_command(app)
add_tow_commands(app)
add_mend_command(app)
add_log_commands(app)
add_open_command(app)
add_sum_commands(app)


def main() -> None:
    """Run the command line; a refusal is told on standard error and leaves with 2, as a wrong option does."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        app()
    except Refusal as refusal:
        print(refusal, file=sys.stderr)
        sys.exit(2)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)


if __name__ == "__main__":
    main()
