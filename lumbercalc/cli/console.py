"""What the commands share: the terminal, one-line faults, and steps that take a moment."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.console import Console
from rich.progress import Progress, SpinnerColumn, TextColumn, TimeElapsedColumn
from typer.core import TyperGroup

from lumbercalc.terminal import harmless

out = Console()
err = Console(stderr=True)

Force = Annotated[bool, typer.Option("--force", help="Replace the file; a dated backup is kept.")]

WRONG_INPUT = 2
"""Exit status when a file or an argument cannot be used."""


class Commands(TyperGroup):
    """All commands: output that cannot be written, as where the disk is full, is told in a line.

    Where nobody reads on, as behind ``| head -1``, typer and rich end the command with status 1.
    """

    def main(self, *given: Any, **how: Any) -> Any:
        """Run the command that is asked for."""
        try:
            return super().main(*given, **how)
        except OSError as fault:
            if fault.filename is not None:  # of a file: none of those that are written to already
                raise
            with suppress(OSError):  # else Python tries again when it ends, and complains
                os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
            reason = fault.strerror or str(fault)
            plain(err, f"lumbercalc: the output cannot be written ({reason})", style="bold red")
            sys.exit(WRONG_INPUT)


@contextmanager
def one_line_faults() -> Iterator[None]:
    """Turn a fault of a file or an argument into one line and exit status 2."""
    try:
        yield
    except (ValueError, OSError) as fault:
        line = " ".join(str(fault).split())
        plain(err, f"lumbercalc: {line}", style="bold red")
        raise typer.Exit(WRONG_INPUT) from None


def one_of(asked: Mapping[str, bool]) -> None:
    """Refuse options that do not go together.

    Parameters
    ----------
    asked : mapping of str to bool
        Whether each of them is given.

    Raises
    ------
    ValueError
        When more than one is.

    Examples
    --------
    >>> one_of({"--stack": True, "--stacks": False})
    """
    given = [option for option, is_given in asked.items() if is_given]
    if len(given) > 1:
        raise ValueError(f"give {' or '.join(given)}, not several of them")


def plain(console: Console, line: str, style: str = "") -> None:
    """Print a line as it is: not wrapped, brackets no markup, nothing steers the terminal.

    Parameters
    ----------
    console : Console
        Standard output or standard error.
    line : str
        What to say.
    style : str
        Of the whole line.
    """
    line = harmless(line)
    console.print(line, style=style, highlight=False, markup=False, emoji=False, soft_wrap=True)


def counted(count: int, what: str) -> str:
    """Say how many there are of something.

    Parameters
    ----------
    count : int
        How many.
    what : str
        Of what, for one.

    Returns
    -------
    str
        In words.

    Examples
    --------
    >>> counted(1, "row"), counted(1200, "row")
    ('1 row', '1,200 rows')
    """
    return f"{count:,} {what}" + ("" if count == 1 else "s")


def tell_of_backup(backup: Path | None) -> None:
    """Say where the file is that was replaced.

    Parameters
    ----------
    backup : Path or None
        None where nothing was replaced.
    """
    if backup is not None:
        plain(err, f"kept the old file as {backup}")


@contextmanager
def steps() -> Iterator[Progress]:
    """Show what is being done while it takes longer than a moment."""
    columns = (SpinnerColumn(), TextColumn("{task.description}"), TimeElapsedColumn())
    watched = err.is_terminal  # elsewhere it would leave an empty line
    with Progress(*columns, console=err, transient=True, disable=not watched) as progress:
        yield progress
