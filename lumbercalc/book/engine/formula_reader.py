"""A formula as a file writes it, read word by word.

Nothing is computed here. What the engine could not follow, or would compute as if it were blank,
is found by its words.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection

from openpyxl.utils.cell import column_index_from_string, get_column_letter

from lumbercalc.book.engine.formula_size import LARGEST_AREA, Extent, extent_of
from lumbercalc.book.engine.formula_text import FormulaText, Known
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
RELATIVE = re.compile(r"(?<![$A-Z])[A-Z]|(?<![$\d])\d", re.IGNORECASE)
"""A column or a row without a dollar sign: of another cell wherever else the formula stands."""
LAST_ROW = "1048576"
"""Of a sheet: the engine takes a cell in it for a column."""
PARAMETER = "_xlpm."
"""Before a name that stands for a value inside the formula itself."""


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
    if len(formula) > LONGEST_FORMULA:
        told = f"the formula has {len(formula):,} characters; at most {LONGEST_FORMULA:,} are read"
        return FormulaText(not_followed=[told])
    return _Reader(sheet, known, whole).read(without_prefixes(formula))


class _Reader:
    """What is known of a formula where it is read.

    Parameters
    ----------
    sheet : str
        Of the formula's cell.
    known : Known
        What it may refer to.
    whole : collection of str
        Names of which it sees all cells.
    """

    def __init__(self, sheet: str, known: Known, whole: Collection[str]) -> None:
        self._found = FormulaText()
        self._known, self._whole = known, whole
        self._sheet = self._place = sheet  # of the formula, and that on which the next cell is
        self._brackets = Brackets()
        self._functions: set[str] = set()
        self._function = ""  # the word before, if it is a function's name
        self._before = ""  # the sign before the word, or before its sheet
        self._is_cut = False  # whether an area was cut to the cells in use

    def read(self, formula: str) -> FormulaText:
        """Read a formula without prefixes from end to end."""
        found = self._found
        pieces: list[str] = []
        marks: list[str] = []
        at = 0
        for word in WORDS.finditer(formula):
            signs = formula[at : word.start()]
            self._read_signs(signs, word[0])
            pieces += signs, self._read_word(word)
            marks.append(signs)
            at = word.end()
        rest = formula[at:]
        found.text = "".join([*pieces, rest])
        found.extent |= extent_of("".join([*marks, rest]), self._functions)
        found.broken = list(dict.fromkeys(found.broken))
        return found

    def _read_signs(self, signs: str, word: str) -> None:
        """Look at the signs before a word."""
        told = self._found.not_followed
        if signs.strip(":") != "":
            self._place = self._sheet
        if ":" in signs:
            told.append(f"the area up to {word[:60]} is not followed")
        if "@" in signs:
            told.append("what @ stands before is not followed")
        if self._brackets.read(signs, self._function):
            told.append("areas put together by a comma are not followed")
        self._before = signs.strip()[-1:] or self._before

    def _read_word(self, word: re.Match[str]) -> str:
        """Look at a word; give it as the engine is to have it."""
        kind, text = str(word.lastgroup), str(word[word.lastgroup or 0])
        found = self._found
        self._function = NEWER.sub("", text).upper() if kind == "function" else ""
        if kind == "area" or (kind == "name" and text.casefold() in self._known.columns):
            after = word.string[word.end() :].lstrip()[:1]
            if self._brackets.one_is_taken(self._before, after):
                found.alone.append(f"which cell of {text[:60]} is meant is not followed")
        if kind == "sheet":
            self._read_sheet(text.strip("'").replace("''", "'"))
            return word[0].replace("''", APOSTROPHE)
        self._before = ""
        match kind:
            case "area":
                return self._read_area(text)
            case "name":
                return self._read_name(text)
            case "cell":
                self._read_cell(text)
            case "function":
                self._read_call(text)
            case "text":
                counts = self._is_cut and self._brackets.function in ("COUNTIF", "COUNTIFS")
                if counts and BLANK_CELLS_FIT.match(text):
                    found.not_followed.append("how many blank cells a column has is not followed")
            case "lost":
                found.broken.append("a reference is #REF!: what it named is gone")
            case "quoted":
                found.not_followed.append(f"what {text[:60]} names is not followed")
            case "table":
                found.not_followed.append(f"a table's column, {word[0][:60]}, is not followed")
        return word[0]

    def _read_sheet(self, sheet: str) -> None:
        found, sheets = self._found, self._known.sheets
        self._place = sheet
        if "[" in sheet or "/" in sheet or "\\" in sheet or "|" in sheet:
            found.broken.append("another workbook is referred to; it is not followed")
        elif ":" in sheet and sheet.casefold() not in sheets:
            told = f"a reference through several sheets ({sheet}) is not followed"
            found.not_followed.append(told)
        elif sheet.casefold() not in sheets:
            found.broken.append(f"there is no sheet {sheet[:60]!r}")

    def _read_call(self, name: str) -> None:
        found, function = self._found, self._function
        self._functions.add(function)
        if function in CATALOGUE:
            found.calls.add(function)
        elif function in BY_SIZE:
            found.not_followed.append(f"the cells that {function} makes are not followed")
        elif function in BY_PATTERN:
            found.not_followed.append(f"the pattern of {function} is not followed")
        elif function in BY_CHANCE:
            found.not_followed.append(f"{function} gives another number each time")
        elif function not in self._known.functions and not name.lower().startswith(PARAMETER):
            told = f"the function {name[:60]} is not known to lumbercalc"
            near = difflib.get_close_matches(function[:60], CATALOGUE, 1, ALIKE)
            if near:
                told += f"; is {near[0]} meant?"
                found.misspelt.append(told)
            found.not_followed.append(told)

    def _read_name(self, text: str) -> str:
        found, name = self._found, text.casefold()
        if name not in ("true", "false") and not name.startswith(PARAMETER):
            found.names.add(name)
            if name in self._known.local_names:
                told = f"the name {text[:60]!r} is of one sheet only: not followed"
                found.not_followed.append(told)
            elif name not in self._known.names:
                found.broken.append(f"the name {text[:60]!r} is not in the workbook")
        if name not in self._whole:
            return text
        found.names.add(name + WHOLE)
        return text + WHOLE

    def _read_cell(self, text: str) -> None:
        self._found.is_relative |= RELATIVE.search(text) is not None
        if text.endswith(LAST_ROW):
            told = f"a cell of the last row, {text}, is not followed"
            self._found.not_followed.append(told)

    def _read_area(self, text: str) -> str:
        in_use = self._in_use(text)
        if self._is_cut and self._brackets.function in OF_BLANK_CELLS:
            self._found.not_followed.append(f"how many cells {text} has is not followed")
        return in_use

    def _in_use(self, area: str) -> str:
        """Cut an area that is larger than any table to the cells of its sheet that are in use."""
        found = self._found
        first, last = area.replace("$", "").upper().split(":")
        found.is_relative |= RELATIVE.search(area) is not None
        most_row, most_column = self._known.sheets.get(self._place.casefold(), (1, 1))
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
        self._is_cut = True
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
