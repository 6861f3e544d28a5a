"""The command line: new workbooks, the demo, the add-in, and the tables behind the functions."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer
from rich.console import Console
from rich.progress import Progress, SpinnerColumn, TextColumn, TimeElapsedColumn
from rich.table import Table
from rich.text import Text

from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.version import VERSION
from lumbercalc.wood import species as species_table

app = typer.Typer(
    add_completion=False,
    no_args_is_help=True,
    help="Functions and a workbook for drying, measuring and selling hardwood lumber.",
)
addin_app = typer.Typer(no_args_is_help=True, help="Give a spreadsheet the functions.")
species_app = typer.Typer(
    no_args_is_help=True, help="The species table, and the shop's own species."
)
app.add_typer(addin_app, name="addin")
app.add_typer(species_app, name="species")

out = Console()
err = Console(stderr=True)

WRONG_INPUT = 2
"""Exit status when a file or an argument cannot be used."""

Force = Annotated[bool, typer.Option("--force", help="Replace the file; a dated backup is kept.")]


@contextmanager
def one_line_faults() -> Iterator[None]:
    """Turn a fault of a file or an argument into one line and exit status 2."""
    try:
        yield
    except (ValueError, OSError, csv.Error) as fault:
        line = " ".join(str(fault).split())
        plain(err, f"lumbercalc: {line}", style="bold red")
        raise typer.Exit(WRONG_INPUT) from None


def plain(console: Console, line: str, style: str = "") -> None:
    """Print a line as it is: not wrapped at the terminal's width, brackets no markup.

    Parameters
    ----------
    console : Console
        Standard output or standard error.
    line : str
        What to say.
    style : str
        Of the whole line.
    """
    console.print(line, style=style, highlight=False, markup=False, emoji=False, soft_wrap=True)


@contextmanager
def steps() -> Iterator[Progress]:
    """Show what is being done while it takes longer than a moment."""
    columns = (SpinnerColumn(), TextColumn("{task.description}"), TimeElapsedColumn())
    watched = err.is_terminal  # elsewhere it would leave an empty line
    with Progress(*columns, console=err, transient=True, disable=not watched) as progress:
        yield progress


def _show_version(asked: bool) -> None:
    if asked:
        out.print(f"lumbercalc {VERSION}")
        raise typer.Exit


@app.callback()
def main(
    version: Annotated[
        bool, typer.Option("--version", callback=_show_version, is_eager=True, help="Show it.")
    ] = False,
) -> None:
    """Functions and a workbook for drying, measuring and selling hardwood lumber."""


def _write_workbook(file: Path, records: Path | None, *, force: bool) -> dict[str, int]:
    from lumbercalc.book.files import keep_backup, may_write
    from lumbercalc.book.records import fill
    from lumbercalc.book.template import build, save

    may_write(file, force=force)
    with steps() as progress:
        task = progress.add_task("putting the sheets together", total=None)
        workbook = build()
        counts = fill(workbook, records) if records is not None else {}
        progress.update(task, description="computing every formula")
        if copy := keep_backup(file, datetime.now()):
            plain(err, f"kept the old file as {copy}")
        save(workbook, file)
    return counts


@app.command()
def new(
    file: Annotated[Path, typer.Argument(help="Where to write it, such as shop.xlsx.")],
    records: Annotated[
        Path | None, typer.Option("--from", help="Folder of CSV records to fill it with.")
    ] = None,
    force: Force = False,
) -> None:
    """Write a fresh workbook, empty or filled from a folder of records."""
    with one_line_faults():
        counts = _write_workbook(file, records, force=force)
    rows = ", ".join(f"{sheet} {count} rows" for sheet, count in counts.items() if count)
    plain(out, f"wrote {file}" + (f": {rows}" if rows else ""))


@app.command()
def demo(
    file: Annotated[Path, typer.Argument(help="Where to write the filled workbook.")] = Path(
        "lumber-shop-demo.xlsx"
    ),
    force: Force = False,
) -> None:
    """Fill the workbook with an invented shop, compute it, and show the stacks and the sale."""
    from lumbercalc.book.report import report as tables
    from lumbercalc.book.sample import sample_folder

    with one_line_faults():
        counts = _write_workbook(file, sample_folder(), force=force)
        printed = list(tables(file))
    for table in printed:
        out.print(table)
    rows = ", ".join(f"{sheet} {count}" for sheet, count in counts.items())
    plain(out, f"wrote {file} (rows: {rows}); an invented shop")


@app.command()
def report(
    file: Annotated[Path, typer.Argument(help="A workbook made by lumbercalc new.")],
) -> None:
    """Show a workbook's stacks and sale, as its stored values have them."""
    from lumbercalc.book.report import report as tables

    with one_line_faults():
        printed = list(tables(file))
    for table in printed:
        out.print(table)


@app.command()
def functions(
    name: Annotated[str, typer.Argument(help="A function, for its arguments.")] = "",
) -> None:
    """List the worksheet functions, or explain one."""
    if name:
        with one_line_faults():
            function = CATALOGUE.get(name.strip().upper())
            if function is None:
                raise ValueError(f"there is no function {name!r}; see: lumbercalc functions")
        plain(out, f"{function.group}: {function.summary}")
        table = Table("Argument", "What it is", "")
        for argument in function.arguments:
            described = Text(argument.description)
            table.add_row(argument.name, described, "optional" if argument.optional else "")
        out.print(table)
        for label, text in (
            ("Gives", function.result),
            ("Example", f"={function.formula} gives {function.example.answer}"),
            ("Source", function.source),
        ):
            plain(out, f"{label}: {text}")
        return
    table = Table("Function", "Group", "What it does")
    for function in CATALOGUE.values():
        table.add_row(function.name, function.group, Text(function.summary))
    out.print(table)


@addin_app.command()
def calc(
    remove: Annotated[bool, typer.Option("--remove", help="Take the add-in away.")] = False,
    check: Annotated[
        bool, typer.Option("--check", help="Say what is there and what is not.")
    ] = False,
    build_only: Annotated[
        Path | None, typer.Option("--build-only", help="Write the .oxt file, install nothing.")
    ] = None,
) -> None:
    """Install the functions in LibreOffice Calc."""
    from lumbercalc.hosts.calc import extension, install

    with one_line_faults():
        if build_only is not None:
            build_only.write_bytes(extension.build())
            plain(out, f"wrote {build_only}")
            return
        done = install.check() if check else install.remove() if remove else install.install()
    for step in done:
        plain(out, str(step))
    if not all(step.done for step in done):
        raise typer.Exit(1)


@species_app.command("show")
def show_species(
    name: Annotated[str, typer.Argument(help="A trade name; without it all are listed.")] = "",
) -> None:
    """Show the figures of a species with their sources, or list the species."""
    if not name:
        for each in species_table.names():
            plain(out, each)
        return
    with one_line_faults():
        found = species_table.match(name)
        if found is None:
            near = "; ".join(species_table.nearest(name)) or "none"
            raise ValueError(f"species {name!r} is not in the table; the nearest: {near}")
    table = Table("Figure", "Value", "Unit", "Source", title=Text(found), title_justify="left")
    for figure in species_table.FIGURES.values():
        source = species_table.source(found, figure.name)
        if source:
            value = float(species_table.figure([found], figure.name)[0])
            table.add_row(figure.name, f"{value:g}", figure.unit, Text(source))
    out.print(table)


@species_app.command("add")
def add_species(
    name: Annotated[str, typer.Argument(help="Name of the shop's own species.")],
    figures: Annotated[
        list[str],
        typer.Option("--figure", help='A figure as NAME=VALUE, such as "specific gravity=0.58".'),
    ],
) -> None:
    """Add a species of the shop's own; spreadsheets know it from their next start on."""
    from lumbercalc.sheet.own_species import own_species_file

    with one_line_faults():
        values: dict[str, float] = {}
        for text in figures:
            figure, equals, value = text.partition("=")
            figure = figure.strip()
            if not equals:
                raise ValueError(f"--figure {text!r} is not NAME=VALUE, such as 'green MC=70'")
            if figure not in species_table.FIGURES:
                known = ", ".join(species_table.FIGURES)
                raise ValueError(f"--figure {figure!r} is not one of: {known}")
            try:
                values[figure] = float(value)
            except ValueError:
                raise ValueError(f"--figure {text!r}: {value!r} is not a number") from None
        file = own_species_file()
        file.parent.mkdir(parents=True, exist_ok=True)
        species_table.save_own(file, name, values)
    plain(out, f"added {name} to {file}")


if __name__ == "__main__":
    app()
