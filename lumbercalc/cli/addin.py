"""Commands that give a spreadsheet the functions."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from lumbercalc.cli.console import one_line_faults, out, plain

addin_app = typer.Typer(no_args_is_help=True, help="Give a spreadsheet the functions.")


@addin_app.command()
def calc(
    remove: Annotated[bool, typer.Option("--remove", help="Take the add-in away.")] = False,
    check: Annotated[
        bool, typer.Option("--check", help="Say what is there and what is not.")
    ] = False,
    worker: Annotated[
        bool, typer.Option("--worker", help="Calculate in a process beside Calc, not in it.")
    ] = False,
    build_only: Annotated[
        Path | None, typer.Option("--build-only", help="Write the .oxt file, install nothing.")
    ] = None,
) -> None:
    """Install the functions in LibreOffice Calc."""
    from lumbercalc.hosts.calc import install

    with one_line_faults():
        if build_only is not None:
            build_only.write_bytes(install.build(by_worker=worker))
            plain(out, f"wrote {build_only}")
            return
        if check:
            done = install.check()
        else:
            done = install.remove() if remove else install.install(by_worker=worker)
    for step in done:
        plain(out, str(step))
    if not all(step.done for step in done):
        raise typer.Exit(1)
