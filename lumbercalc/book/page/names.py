"""The defined names of a workbook that is being built."""

from __future__ import annotations

from openpyxl.workbook import Workbook
from openpyxl.workbook.defined_name import DefinedName


def define(workbook: Workbook, name: str, text: str) -> None:
    """Give cells, or a formula, a defined name.

    Parameters
    ----------
    workbook : Workbook
        That takes the name; one that it has already leads there from now on.
    name : str
        The name.
    text : str
        Absolute address with its sheet, such as "'Boards'!$C$5:$C$5004", or a formula without "=".
    """
    workbook.defined_names[name] = DefinedName(name, attr_text=text)
