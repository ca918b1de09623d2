"""The command that opens the workbench. Heavy imports stay inside, so that --help answers at once."""

from pathlib import Path
from typing import Annotated

import typer


def add_open_command(app: typer.Typer) -> None:
    """Give the app the workbench."""
    app.command("open", help=f"{open_workbench.__doc__}")(open_workbench)


def open_workbench(
    file: Annotated[Path | None, typer.Argument(metavar="[FILE]", help="The design file; none to begin one.")] = None,
    port: Annotated[int | None, typer.Option("--port", min=0, max=65535, help="Serve on this port.")] = None,
    no_browser: Annotated[bool, typer.Option("--no-browser", help="Only tell the address.")] = False,
    network: Annotated[
        bool, typer.Option("--network", help="Open it to the local network too, for those who have the token.")
    ] = False,
    shop: Annotated[Path | None, typer.Option(
        "--shop", envvar="GUDGEON_SHOP", metavar="FOLDER", help="The shop's folder; 'shop' beside the file.")] = None,
) -> None:
    """The workbench: draw a lure in the browser, and know it at once.

    Everything stays on this machine. Each stroke is kept in a journal beside the design; the file changes when you
    save.

    Example:  gudgeon open examples/lanternmere.toml
    """
    from gudgeon.web.server import workbench

    bench = workbench(file, port=port, network=network, shop=shop)
    print(bench.words, flush=True)
    bench.run(browser=not no_browser)
