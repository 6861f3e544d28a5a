"""The command line: workbooks, a logger's air, the add-in, and the tables behind the functions."""

from __future__ import annotations

import sys
from io import TextIOWrapper
from typing import Annotated

import typer

from lumbercalc.cli.addin import addin_app
from lumbercalc.cli.check import check
from lumbercalc.cli.climate import climate
from lumbercalc.cli.console import Commands, out
from lumbercalc.cli.labels import labels
from lumbercalc.cli.quote import quote
from lumbercalc.cli.tables import functions, species_app
from lumbercalc.cli.upgrade import upgrade
from lumbercalc.cli.workbooks import demo, new, report
from lumbercalc.collector import without_collector
from lumbercalc.version import VERSION

if isinstance(sys.stdout, TextIOWrapper):
    # a shop's words in a file or a pipe of Windows, whose code page may lack their letters
    sys.stdout.reconfigure(errors="replace")

app = typer.Typer(
    cls=Commands,
    add_completion=False,
    no_args_is_help=True,
    help="Functions and a workbook for drying, measuring and selling hardwood lumber.",
)
for command in (new, demo, report, check, quote, labels, climate, upgrade, functions):
    app.command()(command)
app.add_typer(addin_app, name="addin")
app.add_typer(species_app, name="species")


def _show_version(asked: bool) -> None:
    if asked:
        out.print(f"lumbercalc {VERSION}")
        raise typer.Exit


@app.callback()
def main(
    context: typer.Context,
    version: Annotated[
        bool, typer.Option("--version", callback=_show_version, is_eager=True, help="Show it.")
    ] = False,
) -> None:
    """Functions and a workbook for drying, measuring and selling hardwood lumber."""
    context.with_resource(without_collector())
