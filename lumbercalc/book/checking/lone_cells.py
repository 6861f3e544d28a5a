"""Which cells stand alone as an argument of our functions: a blank one counts as 0 in Calc."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field

from openpyxl.formula.tokenizer import Token, Tokenizer, TokenizerError
from openpyxl.utils.cell import range_boundaries

from lumbercalc.book.checking.fresh import Fresh
from lumbercalc.book.engine.formula_reader import RELATIVE
from lumbercalc.book.engine.written_names import APOSTROPHE
from lumbercalc.book.xlsx.places import Area, Place
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Argument

CELLS = re.compile(r"(?:(?P<sheet>.+)!)?(?P<area>\$?[A-Z]{1,3}\$?\d+(?::\$?[A-Z]{1,3}\$?\d+)?)",
                   re.IGNORECASE)  # fmt: skip


@dataclass(frozen=True)
class Given:
    """Cells that are given to a function, and nothing with them.

    Parameters
    ----------
    argument : Argument
        As which.
    area : Area
        One cell or several.
    moves : bool
        Whether it is another where the formula is filled down or to the right.
    """

    argument: Argument
    area: Area
    moves: bool

    @property
    def cell(self) -> Place | None:
        """The one cell; None where there are several."""
        return self.area.first if self.area.height == self.area.width == 1 else None


@dataclass
class _Open:
    """A bracket that is open: the function before it, and what stands between its commas."""

    function: str = ""
    words: list[list[Token]] = field(default_factory=lambda: [[]])


def calls(fresh: Fresh, place: Place) -> Iterator[tuple[str, list[Given]]]:
    """Give each call of our functions in a formula, with the cells that are given alone.

    Parameters
    ----------
    fresh : Fresh
        The workbook.
    place : tuple
        Of the formula.

    Yields
    ------
    tuple of str and list of Given
        Name in the catalogue, and its arguments that are cells or names of cells.
    """
    areas = {name.casefold(): area for name, area in fresh.old.names.items()}
    sheets = {sheet.casefold(): sheet for sheet in fresh.sheets}

    def given(argument: Argument, word: str) -> Given | None:
        if word.casefold() in areas:
            return Given(argument, areas[word.casefold()], moves=False)
        found = CELLS.fullmatch(word)
        sheet = (found["sheet"] or place[0]).strip("'").replace(APOSTROPHE, "'") if found else ""
        if found is None or sheet.casefold() not in sheets:
            return None
        left, top, right, bottom = range_boundaries(found["area"].upper())
        area = Area(sheets[sheet.casefold()], left, top, right, bottom)  # type: ignore[arg-type]
        return Given(argument, area, moves=RELATIVE.search(found["area"]) is not None)

    for name, words in _calls(fresh.texts[place].text):
        arguments = CATALOGUE[name].arguments
        pairs = zip(arguments, words, strict=False)  # what is one too many is refused
        found = [given(argument, word) for argument, word in pairs if word]
        yield name, [each for each in found if each is not None]


def _calls(formula: str) -> Iterator[tuple[str, list[str]]]:
    """Give each call with its arguments; "" for one that is not a single word."""
    try:
        tokens = Tokenizer(formula).items
    except (TokenizerError, IndexError):  # of brackets that are never opened
        return
    stack = [_Open()]
    for token in tokens:
        if token.type == Token.WSPACE:
            continue
        if token.type == Token.SEP and token.subtype == Token.ARG:
            stack[-1].words.append([])
        elif token.subtype == Token.CLOSE and len(stack) > 1:
            closed = stack.pop()
            if closed.function in CATALOGUE:
                yield closed.function, [_alone(words) for words in closed.words]
        else:
            stack[-1].words[-1].append(token)
            if token.subtype == Token.OPEN:
                stack.append(_Open(token.value.rstrip("(").upper()))


def _alone(words: list[Token]) -> str:
    is_cell = len(words) == 1 and words[0].subtype == Token.RANGE
    return str(words[0].value) if is_cell else ""
