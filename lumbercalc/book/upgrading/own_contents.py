"""Tell what a template put into a workbook itself from what a shop typed.

A label, a note or a formula of today's template is known from building it. What blank workbooks of
older templates had besides is kept in data/old_contents.txt, a digest for each label, note, formula
and defined name: without it an upgrade would keep thousands of them as if the shop had typed them.
`python -m lumbercalc.book.upgrading.own_contents workbook/lumber-shop.xlsx` adds those of the
workbook that lies there, and is run when the template was changed, before it is built there anew.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Iterator
from functools import cache
from hashlib import sha256
from importlib.resources import files
from pathlib import Path

from openpyxl.utils.cell import column_index_from_string

from lumbercalc.book.template import build
from lumbercalc.book.xlsx.archive import open_archive
from lumbercalc.book.xlsx.old_workbook import OldWorkbook, as_old, read_old
from lumbercalc.book.xlsx.places import Place, address

OLD_CONTENTS = "data/old_contents.txt"
DIGITS = 12

TOKEN = re.compile(
    r'(?P<text>"(?:[^"]|"")*")'
    r"|(?P<sheet>'(?:[^']|'')*+'!)"
    r"|(?P<quoted>'(?:[^']|'')*+')"
    r"|(?P<blank>\s+)"
    r"|(?P<truth>TRUE|FALSE)\(\)"
    r"|(?<![\w.])(?P<function>[A-Za-z_][\w.]*+)(?=\()"
    r"|(?<![\w.!$])(?P<column>\$?[A-Z]{1,3})(?P<row>\$?\d{1,7})(?![\w(.])"
    r"|(?<![\w.$])(?P<whole>\d+)\.0+(?![\w.])"
)
"""Parts of a formula that spreadsheets write in more than one way, and addresses of cells."""


def own_forms(workbook: OldWorkbook, titles: dict[str, str]) -> Iterator[tuple[Place, str]]:
    """Give every cell's content in a form that does not depend on where the cell stands.

    A formula's cells are named by their column's name and by how many rows they are away, so that
    it stays the same when rows and columns are moved. A number goes with its label, the nearest
    text left of it, or else with its address: the same number may be typed anywhere.

    Parameters
    ----------
    workbook : OldWorkbook
        Any.
    titles : dict
        The template's title of each sheet that goes by another.

    Yields
    ------
    tuple
        Place and digest.
    """
    columns = _named_columns(workbook)
    for place, cell in workbook.cells.items():
        sheet, row, column = place
        if cell.formula:
            form = _relative(cell.formula, sheet, row, column, columns)
        elif isinstance(cell.value, bool) or not isinstance(cell.value, (int, float)):
            form = str(cell.value)
        else:
            form = f"{_label(workbook, place)}|{_number(cell.value)}"
        yield place, _digest(f"{titles.get(sheet, sheet)}\n{form}")


def own_name(name: str) -> str:
    """Give the digest of a defined name.

    Parameters
    ----------
    name : str
        Such as "board_width".

    Returns
    -------
    str
        As it stands in the file of digests.
    """
    return _digest(f"name\n{name}")


def titles_by_names(found: OldWorkbook, template: OldWorkbook) -> dict[str, str]:
    """Tell which sheet of the template each sheet is by the names of cells on it.

    Parameters
    ----------
    found, template : OldWorkbook
        A shop's, and today's.

    Returns
    -------
    dict
        Title that was found to the template's, where they differ.
    """
    sheets: dict[str, Counter[str]] = {}
    for name, area in found.names.items():
        if name in template.names:
            sheets.setdefault(area.sheet, Counter())[template.names[name].sheet] += 1
    here = {area.sheet for area in template.names.values()}
    return {
        title: counts.most_common(1)[0][0] for title, counts in sheets.items() if title not in here
    }


@cache
def old_contents() -> frozenset[str]:
    """Give the digests of what older templates had in their cells.

    Returns
    -------
    frozenset of str
        As `own_forms` makes them.
    """
    text = files("lumbercalc.book").joinpath(OLD_CONTENTS).read_text(encoding="utf-8")
    return frozenset(line for line in text.splitlines() if not line.startswith("#"))


def contents_of(template: OldWorkbook) -> set[str]:
    """Give the digests of what a blank template has in its cells, and of its names.

    Parameters
    ----------
    template : OldWorkbook
        As it was built.

    Returns
    -------
    set of str
        As `own_forms` and `own_name` make them.
    """
    names = (*template.names, *template.other_names)
    return {form for _, form in own_forms(template, {})} | {own_name(name) for name in names}


def _label(workbook: OldWorkbook, place: Place) -> str:
    sheet, row, column = place
    for left in range(column - 1, 0, -1):
        cell = workbook.cells.get((sheet, row, left))
        if cell is not None and not cell.formula and isinstance(cell.value, str):
            return f"{cell.value}|{column - left}"
    return address(place)


def _number(value: float) -> str:
    try:
        return f"{float(value):.15g}"
    except OverflowError:  # a whole number of hundreds of digits
        return str(value)


def _digest(text: str) -> str:
    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:DIGITS]


def _named_columns(workbook: OldWorkbook) -> dict[tuple[str, int], str]:
    """Give the name of each column that has one; the first by the alphabet."""
    return {
        (area.sheet, area.first_column): name
        for name, area in sorted(workbook.names.items(), reverse=True)
        if area.first_column == area.last_column and area.last_row > area.first_row
    }


def _relative(
    formula: str, sheet: str, row: int, column: int, columns: dict[tuple[str, int], str]
) -> str:
    def one(token: re.Match[str]) -> str:
        if token["text"] or token["quoted"]:
            return token[0]
        if token["sheet"]:
            return token["sheet"].replace("'", "")
        if token["blank"]:
            return ""
        if token["whole"] or token["truth"]:
            return token["whole"] or token["truth"]
        if token["function"]:  # one that the spreadsheet does not know is saved as it likes
            return token["function"].upper()
        number = column_index_from_string(token["column"].removeprefix("$"))
        name = columns.get((sheet, number))
        if name is None:
            name = token["column"] if token["column"][0] == "$" else f"C[{number - column}]"
        down = token["row"] if token["row"][0] == "$" else f"[{int(token['row']) - row}]"
        return f"{{{name}}}{down}"

    return TOKEN.sub(one, formula)


def add_contents(path: Path, file: Path) -> int:
    """Add what a blank template had in its cells, and today's has no more, to the digests.

    Parameters
    ----------
    path : Path
        The older template's workbook, as it was built.
    file : Path
        Of the digests; one a line under the lines of its head.

    Returns
    -------
    int
        Digests that are new.
    """
    lines = file.read_text(encoding="utf-8").splitlines()
    head = [line for line in lines if line.startswith("#")]
    known = set(lines) - set(head)
    gone = contents_of(read_old(open_archive(path))) - contents_of(as_old(build()))
    file.write_text("\n".join([*head, *sorted(known | gone), ""]), encoding="utf-8")
    return len(gone - known)


if __name__ == "__main__":
    there = Path(__file__).parents[1] / OLD_CONTENTS
    for argument in sys.argv[1:]:
        print(f"{argument}: {add_contents(Path(argument), there)} contents are new")
