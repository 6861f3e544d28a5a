"""Commands that show what is behind the functions: the catalogue and the species table."""

from __future__ import annotations

import re
from datetime import datetime
from difflib import get_close_matches
from typing import Annotated

import typer
from rich.table import Table
from rich.text import Text

from lumbercalc.cli.console import one_line_faults, out, plain, tell_of_backup
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.wood import species as species_table

species_app = typer.Typer(
    no_args_is_help=True, help="The species table, and the shop's own species."
)


def functions(
    name: Annotated[str, typer.Argument(help="A function, for its arguments.")] = "",
) -> None:
    """List the worksheet functions, or explain one."""
    if name:
        with one_line_faults():
            function = CATALOGUE.get(name.strip().upper())
            if function is None:
                asked = re.sub(r"[\s-]+", "_", name.strip().upper())
                near = ", ".join(get_close_matches(asked, CATALOGUE)) or "none"
                raise ValueError(
                    f"there is no function {name!r}; the nearest: {near}; all: lumbercalc functions"
                )
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
    """Add a species of the shop's own; spreadsheets know it from their next start on.

    Of one that is there already the figures that are given change; a backup is kept.
    """
    from lumbercalc.file_checks import Seen
    from lumbercalc.files import write_faults, write_file
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
            if figure in values:
                raise ValueError(f"--figure {figure!r} is there twice; give it once")
            try:
                values[figure] = float(value)
            except ValueError:
                raise ValueError(f"--figure {text!r}: {value!r} is not a number") from None
        file = own_species_file()
        with write_faults(file):
            file.parent.mkdir(parents=True, exist_ok=True)
        seen = Seen.of(file) if file.exists() else None
        content = species_table.with_own(file, name, values)
        backup = write_file(file, content, force=seen is not None, now=datetime.now(), seen=seen)
    tell_of_backup(backup)
    plain(out, f"added {name} to {file}")
