"""The gudgeon command: names to commands, and the one place where refusals are told."""

import re
import sys
from itertools import pairwise
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
from gudgeon.errors import Fault, Refusal

_MISUSED = 2  # what a command line that is not read leaves with

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


def _no_minus(words: list[str]) -> None:
    """Nothing, unless a quantity that stands by itself begins with a minus and would be taken for an option.

    raises : Refusal
    """
    for before, word in pairwise(["", *words]):
        if re.match(r"-\.?\d", word) and not before.startswith("--"):
            hint = "it begins with a minus; weights have none, and of an angle say which way: 4 deg nose-down"
            raise Refusal("this cannot be read", [Fault(word, hint)])


def _tell_example(words: list[str]) -> None:
    """After what is wrong with a command line, one of that command that is right."""
    command = typer.main.get_command(app)
    for word in words:
        inner = getattr(command, "commands", {}).get(word)
        if inner is None:
            break
        command = inner
    found = re.search(r"Example:\s+(gudgeon (?:.*\\\n)*.*)", command.help or "")
    if found:
        example = re.sub(r"\s*\\\n\s*", " ", found[1]).strip()
        print(f"For example:  {example}", file=sys.stderr)


def main() -> None:
    """Run the command line; a refusal is told on standard error and leaves with 2, as a wrong option does."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    try:
        _no_minus(sys.argv[1:])
        app()
    except SystemExit as left:
        if left.code == _MISUSED:
            _tell_example(sys.argv[1:])
        raise
    except Refusal as refusal:
        print(refusal, file=sys.stderr)
        sys.exit(2)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)


if __name__ == "__main__":
    main()
