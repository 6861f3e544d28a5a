"""Where a formula names several cells and a spreadsheet takes one of them.

Unless it is an array formula, an operator and most functions take the cell of an area in the own
row or column, or give an error; the engine computes with all of them. Seen in Calc 25.2.
"""

from __future__ import annotations

from lumbercalc.sheet.catalogue import CATALOGUE

PASSING = frozenset(("CHOOSE", "IF", "IFERROR", "IFNA", "IFS", "SWITCH"))
"""What gives an area on as it is: around it nothing takes several cells."""
OF_ARRAYS = frozenset(
    (
        "CORREL", "FILTER", "FORECAST", "FREQUENCY", "INTERCEPT", "LOOKUP", "MATCH", "MMULT",
        "MODE", "RSQ", "SLOPE", "SORT", "SUMPRODUCT", "SUMX2MY2", "SUMXMY2", "TRANSPOSE", "XLOOKUP",
        "XMATCH",
    )
)  # fmt: skip
"""Within them all is computed as in an array formula."""
OF_ONE_CELL = frozenset(
    (
        "ABS", "DATE", "DAY", "EXP", "FIND", "INT", "LEFT", "LEN", "LN", "LOWER", "MID", "MOD",
        "MONTH", "NOT", "REPLACE", "RIGHT", "ROUND", "ROUNDDOWN", "ROUNDUP", "SEARCH", "SQRT",
        "SUBSTITUTE", "TEXT", "TRIM", "TRUNC", "UPPER", "VALUE", "WEEKDAY", "YEAR",
    )
)  # fmt: skip
OPERATORS = frozenset("+-*/^&=<>%")


class Brackets:
    """The brackets that are open where a formula is read.

    Examples
    --------
    >>> brackets = Brackets()
    >>> brackets.read("(", "SUM"), brackets.one_is_taken("(", "*"), brackets.one_is_taken("(", ")")
    (False, True, False)
    """

    def __init__(self) -> None:
        self._open: list[str] = []

    def read(self, between: str, function: str) -> bool:
        """Go on to the next word.

        Parameters
        ----------
        between : str
            Signs before it.
        function : str
            The word before them, if it is a function's name, in capitals; else "".

        Returns
        -------
        bool
            Whether areas are put together by a comma, outside of any function.
        """
        if between == "(":  # most often, with the next one
            self._open.append(function)
            return False
        if between in ("", ","):
            return between == "," and (not self._open or self._open[-1] == "")
        joined = False
        for number, sign in enumerate(between):
            if sign == "(":
                self._open.append(function if number == 0 else "")
            elif sign == "{":
                self._open.append("{")
            elif sign in ")}" and self._open:
                self._open.pop()
            elif sign == "," and (not self._open or self._open[-1] == ""):
                joined = True
        return joined

    @property
    def function(self) -> str:
        """The function within whose brackets this is; "" within no function's."""
        return self._open[-1] if self._open else ""

    def one_is_taken(self, before: str, after: str) -> bool:
        """Tell whether one cell is taken of an area that stands here.

        Parameters
        ----------
        before, after : str
            The signs next to it.

        Returns
        -------
        bool
            False within a function that takes areas, or computes with all their cells.
        """
        functions = [word for word in self._open if word not in ("", "{")]
        ours = [number for number, word in enumerate(functions) if word in CATALOGUE]
        functions = functions[ours[-1] :] if ours else functions  # to them Calc hands no arrays
        if not OF_ARRAYS.isdisjoint(functions):
            return False
        if PASSING.issuperset(functions) or before in OPERATORS or after in OPERATORS:
            return True
        return functions[-1] in OF_ONE_CELL
