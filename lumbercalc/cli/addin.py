"""Commands that give a spreadsheet the functions."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lumbercalc.cli.console import Force, one_line_faults, one_of, out, plain, tell_of_backup

if TYPE_CHECKING:  # the hosts would slow the start of every other command
    from lumbercalc.hosts.step import Step

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
    force: Force = False,
) -> None:
    """Install the functions in LibreOffice Calc."""
    from lumbercalc.file_checks import may_write
    from lumbercalc.files import write_file
    from lumbercalc.hosts.calc import install

    with one_line_faults():
        one_of({"--remove": remove, "--check": check, "--build-only": build_only is not None})
        if build_only is not None:
            may_write(build_only, force=force, what="an add-in for Calc", endings=(".oxt",))
            backup = write_file(
                build_only, install.build(by_worker=worker), force=force, now=datetime.now()
            )
            tell_of_backup(backup)
            plain(out, f"wrote {build_only}")
            return
        if check:
            done = install.check()
        else:
            done = install.remove() if remove else install.install(by_worker=worker)
    _show(done)


BY_HAND = (
    "once for each workbook, by hand:",
    "  1. lumbercalc new shop.xlsm, open it in Excel, enable its macros",
    "  2. Alt+F11 opens the VBA editor: File, Import File, choose {file}",
    "     (after an update: first right-click the module lumbercalc that is there, and remove it)",
    "  3. back in Excel, Alt+F8: run DescribeLumbercalc for the help texts; then save",
    "  4. Ctrl+Alt+F9 computes everything anew",
    "in a workbook of your own instead of 1: save it as .xlsm, and in the VBA editor tick xlwings",
    "  under Tools, References; if it lies in OneDrive or SharePoint, give it a sheet xlwings.conf",
    "  with Add_Workbook_to_PYTHONPATH in cell A1 and false in cell B1",
)
"""What the installation cannot do without being trusted with the VBA project."""

ELSEWHERE = (
    "this installs for Excel on Windows, and this machine is another; nothing was done",
    "  Excel on a Mac or in the browser: xlwings Lite, see samples/xlwings_lite/README.md",
    "  LibreOffice Calc: lumbercalc addin calc",
    "  the VBA module alone, to take to a Windows machine: "
    "lumbercalc addin excel --wrappers lumbercalc.bas",
)


@addin_app.command()
def excel(
    remove: Annotated[bool, typer.Option("--remove", help="Undo what this did.")] = False,
    check: Annotated[
        bool, typer.Option("--check", help="Say what is there and what is not.")
    ] = False,
    wrappers: Annotated[
        Path | None,
        typer.Option("--wrappers", help="Write the VBA module, a .bas file; install nothing."),
    ] = None,
    force: Force = False,
) -> None:
    """Install the functions in Excel on Windows, through xlwings.

    Tested with stand-ins for Windows and Excel only: not run on Windows by its makers yet.
    """
    from lumbercalc.file_checks import may_write
    from lumbercalc.files import write_file
    from lumbercalc.hosts.excel import install as installing
    from lumbercalc.hosts.excel.machine import this_machine
    from lumbercalc.hosts.excel.wrappers import wrappers_text

    machine = this_machine()
    with one_line_faults():
        one_of({"--remove": remove, "--check": check, "--wrappers": wrappers is not None})
        if wrappers is not None:
            may_write(wrappers, force=force, what="a VBA module", endings=(".bas",))
            content = wrappers_text().encode("ascii")
            tell_of_backup(write_file(wrappers, content, force=force, now=datetime.now()))
            plain(out, f"wrote {wrappers}")
            return
        if not machine.windows and not check:
            for line in ELSEWHERE:
                plain(out, line)
            raise typer.Exit(1)
        if check:
            done = installing.check(machine)
        elif remove:
            done = installing.remove(machine, datetime.now())
        else:
            done = installing.install(machine, datetime.now())
    _show(done)
    if not check and not remove:
        for line in BY_HAND:
            plain(out, line.format(file=machine.vba_module))


def _show(done: Sequence[Step]) -> None:
    for step in done:
        plain(out, str(step))
    if not all(step.done for step in done):
        raise typer.Exit(1)
