"""A formula as a file writes it: what it calls, what it refers to, and what of that is not there.

Nothing is computed here. What the engine could not follow, or would compute as if it were blank,
is found by its words.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field

from openpyxl.utils.cell import column_index_from_string, get_column_letter

from lumbercalc.book.engine.formula_size import LARGEST_AREA, Extent, extent_of
from lumbercalc.book.engine.one_cell import Brackets
from lumbercalc.book.engine.trim import WHOLE
from lumbercalc.book.engine.written_names import APOSTROPHE, QUOTED, without_prefixes
from lumbercalc.sheet.catalogue import CATALOGUE

LONGEST_FORMULA = 8192
"""Characters of a formula (specifications of Excel); a longer one is not looked through."""

_SHEET = rf"{QUOTED}|[^\W\d](?:[\w.]|\[\d+\])*(?::[\w.]+)?|\[\d+\][\w.]*"
_CELL = r"\$?[A-Za-z]{1,3}\$?\d{1,7}"
WORDS = re.compile(
    r'(?P<text>"(?:[^"]|"")*")'
    r"|(?P<lost>#REF!)"
    r"|(?P<error>#(?:N/A|NULL!|DIV/0!|VALUE!|NAME\?|NUM!))"
    rf"|(?P<sheet>{_SHEET})(?:!|(?<=')\#)"
    rf"|(?P<quoted>{QUOTED})"
    r"|(?P<table>[^\W\d][\w.\\]*)\[(?:[^\[\]]|\[[^\[\]]*\])*\]"
    r"|(?P<function>[^\W\d][\w.\\]*)(?=\()"
    rf"|(?P<area>(?:{_CELL}:{_CELL}|\$?[A-Za-z]{{1,3}}:\$?[A-Za-z]{{1,3}}|\$?\d+:\$?\d+)(?![\w.(]))"
    rf"|(?P<cell>{_CELL})(?![\w.(])"
    r"|(?P<name>[^\W\d][\w.\\?]*)"
    r"|(?P<number>\d[\w.]*)"
)
NEWER = re.compile(r"(?:_xlfn\.|_xlws\.)+", re.IGNORECASE)
BY_SIZE = (
    "SEQUENCE", "MUNIT", "MAKEARRAY", "EXPAND", "REPT", "TEXTSPLIT", "HSTACK", "VSTACK",
    "CHOOSECOLS", "CHOOSEROWS", "TOCOL", "TOROW", "WRAPCOLS", "WRAPROWS", "GROUPBY", "PIVOTBY",
)  # fmt: skip
"""What makes as many cells or characters as it is told to, or lays them out in another height and
width."""
BY_PATTERN = ("REGEXEXTRACT", "REGEXREPLACE", "REGEXTEST")
"""What may search without an end."""
ALIKE = 0.85
"""Share of a name's letters by which it is taken for another's: one left out, one too many."""
BY_CHANCE = ("RAND", "RANDBETWEEN", "RANDARRAY")
OF_BLANK_CELLS = ("COLUMNS", "COUNTBLANK", "ROWS")
BLANK_CELLS_FIT = re.compile('""$|"="$|"<>[^"]')
"""A criterion that the cells behind the last one in use fit, too."""
CORNER = 2
"""Dollar signs of a corner that is the same wherever the formula stands."""
LAST_ROW = "1048576"
"""Of a sheet: the engine takes a cell in it for a column."""
PARAMETER = "_xlpm."
"""Before a name that stands for a value inside the formula itself."""


@dataclass(frozen=True)
class Known:
    """What a formula may refer to.

    Parameters
    ----------
    sheets : dict
        Last row and last column in use, by the sheet's name in lower case.
    names : collection of str
        Defined names, in lower case.
    local_names : collection of str
        Those of one sheet only.
    functions : collection of str
        What the engine computes, our functions among them, in capitals.
    columns : collection of str
        Those of the names that are areas of several cells.
    """

    sheets: Mapping[str, tuple[int, int]]
    names: Collection[str]
    local_names: Collection[str]
    functions: Collection[str]
    columns: Collection[str] = ()


@dataclass
class FormulaText:
    """What was found in a formula.

    Parameters
    ----------
    text : str
        For the engine: our functions under their plain names, sheets as `for_the_engine` names
        them, large areas cut to those in use.
    calls : set of str
        Functions of ours that it calls.
    names : set of str
        Words that are defined names or should be, in lower case.
    broken : list of str
        References that lead nowhere, or out of the workbook.
    not_followed : list of str
        What else cannot be computed.
    alone : list of str
        Areas of several cells where one is asked for: unless it is an array formula, each cell
        takes the one in its own row or column, which is not followed.
    misspelt : list of str
        What of that is nearly the name of a function of ours.
    extent : Extent
        Of its areas and lists; those of its names are not among them.
    is_relative : bool
        Whether an area of it is not the same wherever it stands.
    """

    text: str = ""
    calls: set[str] = field(default_factory=set)
    names: set[str] = field(default_factory=set)
    broken: list[str] = field(default_factory=list)
    not_followed: list[str] = field(default_factory=list)
    alone: list[str] = field(default_factory=list)
    misspelt: list[str] = field(default_factory=list)
    extent: Extent = field(default_factory=Extent)
    is_relative: bool = False


def read_formula(
    formula: str, sheet: str, known: Known, whole: Collection[str] = ()
) -> FormulaText:
    """Look through a formula.

    Parameters
    ----------
    formula : str
        As the file has it, with "=" in front.
    sheet : str
        Of its cell.
    known : Known
        What it may refer to.
    whole : collection of str
        Names, in lower case, of which it sees all cells: they go by another in the text.

    Returns
    -------
    FormulaText
        What it calls, and what is wrong with it.
    """
    found = FormulaText()
    if len(formula) > LONGEST_FORMULA:
        found.not_followed.append(
            f"the formula has {len(formula):,} characters; at most {LONGEST_FORMULA:,} are read"
        )
        return found
    plain = without_prefixes(formula)
    pieces: list[str] = []
    marks: list[str] = []
    functions: set[str] = set()
    brackets = Brackets()
    function = before = ""
    is_cut = False
    at = 0
    place = sheet
    for word in WORDS.finditer(plain):
        kind, text = str(word.lastgroup), str(word[word.lastgroup or 0])
        between = plain[at : word.start()]
        if between.strip(":") != "":
            place = sheet
        if ":" in between:
            found.not_followed.append(f"the area up to {word[0][:60]} is not followed")
        pieces.append(between)
        marks.append(between)
        if "@" in between:
            found.not_followed.append("what @ stands before is not followed")
        if brackets.read(between, function):
            found.not_followed.append("areas put together by a comma are not followed")
        function = NEWER.sub("", text).upper() if kind == "function" else ""
        before = between.strip()[-1:] or before
        at = word.end()
        several = kind == "area" or (kind == "name" and text.casefold() in known.columns)
        if several and brackets.one_is_taken(before, plain[at:].lstrip()[:1]):
            found.alone.append(f"which cell of {text[:60]} is meant is not followed")
        if kind == "sheet":
            place = text.strip("'").replace("''", "'")
            _look_at_sheet(place, known, found)
            pieces.append(word[0].replace("''", APOSTROPHE))
            continue
        before = ""
        if kind == "area":
            in_use = _in_use(text, place, known, found)
            is_cut |= len(in_use) > len(text) or in_use.count("$") > text.count("$")
            if is_cut and brackets.function in OF_BLANK_CELLS:
                found.not_followed.append(f"how many cells {text} has is not followed")
            pieces.append(in_use)
            continue
        if kind == "cell":
            found.is_relative |= text.count("$") < CORNER
            if text.endswith(LAST_ROW):
                found.not_followed.append(f"a cell of the last row, {text}, is not followed")
        elif kind == "function":
            functions.add(function)
            _look_at_function(text, known, found)
        elif kind == "text":
            counts = is_cut and brackets.function in ("COUNTIF", "COUNTIFS")
            if counts and BLANK_CELLS_FIT.match(text):
                found.not_followed.append("how many blank cells a column has is not followed")
        elif kind == "lost":
            found.broken.append("a reference is #REF!: what it named is gone")
        elif kind == "quoted":
            found.not_followed.append(f"what {text[:60]} names is not followed")
        elif kind == "table":
            found.not_followed.append(f"a table's column, {word[0][:60]}, is not followed")
        elif kind == "name":
            _look_at_name(text, known, found)
            if text.casefold() in whole:
                found.names.add(text.casefold() + WHOLE)
                pieces.append(text + WHOLE)
                continue
        pieces.append(word[0])
    found.text = "".join([*pieces, plain[at:]])
    found.extent |= extent_of("".join([*marks, plain[at:]]), functions)
    found.broken = list(dict.fromkeys(found.broken))
    return found


def _look_at_sheet(sheet: str, known: Known, found: FormulaText) -> None:
    if "[" in sheet or "/" in sheet or "\\" in sheet or "|" in sheet:
        found.broken.append("another workbook is referred to; it is not followed")
    elif ":" in sheet and sheet.casefold() not in known.sheets:
        found.not_followed.append(f"a reference through several sheets ({sheet}) is not followed")
    elif sheet.casefold() not in known.sheets:
        found.broken.append(f"there is no sheet {sheet[:60]!r}")


def _look_at_function(name: str, known: Known, found: FormulaText) -> None:
    plain = NEWER.sub("", name).upper()
    if plain in CATALOGUE:
        found.calls.add(plain)
    elif plain in BY_SIZE:
        found.not_followed.append(f"the cells that {plain} makes are not followed")
    elif plain in BY_PATTERN:
        found.not_followed.append(f"the pattern of {plain} is not followed")
    elif plain in BY_CHANCE:
        found.not_followed.append(f"{plain} gives another number each time")
    elif plain not in known.functions and not name.lower().startswith(PARAMETER):
        told = f"the function {name[:60]} is not known to lumbercalc"
        near = difflib.get_close_matches(plain[:60], CATALOGUE, 1, ALIKE)
        if near:
            told += f"; is {near[0]} meant?"
            found.misspelt.append(told)
        found.not_followed.append(told)


def _look_at_name(text: str, known: Known, found: FormulaText) -> None:
    name = text.casefold()
    if name in ("true", "false") or name.startswith(PARAMETER):
        return
    found.names.add(name)
    if name in known.local_names:
        found.not_followed.append(f"the name {text[:60]!r} is of one sheet only: not followed")
    elif name not in known.names:
        found.broken.append(f"the name {text[:60]!r} is not in the workbook")


def _in_use(area: str, sheet: str, known: Known, found: FormulaText) -> str:
    """Cut an area that is larger than any table to the cells of its sheet that are in use."""
    first, last = area.replace("$", "").upper().split(":")
    found.is_relative |= area.count("$") < 2 * CORNER and first[-1:].isdigit()
    most_row, most_column = known.sheets.get(sheet.casefold(), (1, 1))
    columns, rows = zip(_corner(first, 1, 1), _corner(last, 16_384, 1_048_576), strict=True)
    (left, right), (top, bottom) = sorted(columns), sorted(rows)
    if (bottom - top + 1) * (right - left + 1) <= LARGEST_AREA:
        found.extent |= Extent(bottom - top + 1, right - left + 1)
        in_order = columns == (left, right) and rows == (top, bottom)
        return (
            area
            if in_order
            else f"{get_column_letter(left)}{top}:{get_column_letter(right)}{bottom}"
        )
    right, bottom = max(left, min(right, most_column)), max(top, min(bottom, most_row))
    if (bottom - top + 1) * (right - left + 1) > LARGEST_AREA:
        found.not_followed.append(
            f"the area {area} has more than {LARGEST_AREA:,} cells in use; name fewer"
        )
    found.extent |= Extent(bottom - top + 1, right - left + 1)
    return f"${get_column_letter(left)}${top}:${get_column_letter(right)}${bottom}"


def _corner(text: str, column: int, row: int) -> tuple[int, int]:
    letters, digits = text.rstrip("0123456789"), text.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
    return (
        column_index_from_string(letters) if letters else column,
        int(digits) if digits else row,
    )
