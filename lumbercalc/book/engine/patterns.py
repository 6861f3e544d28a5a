"""How the `formulas` engine compares texts with * and ? in them: without trying anything twice."""

from __future__ import annotations

import re
from types import SimpleNamespace

from formulas import functions
from formulas.functions import look

PIECES = re.compile(r"\\.|\.\*|\.\?|.", re.DOTALL)
"""Of a pattern of the engine: a letter, .* for the *, and . or .? for the ?."""
SUBSTITUTE = look.regex.sub
"""The engine's own, by which MATCH writes its pattern."""


def register() -> None:
    """Put our reading of patterns where the engine takes Python's.

    Of COUNTIF and MATCH: its own tries every way to divide a text between the * of a criterion, and
    with five of them a cell of 800 letters takes minutes.
    """
    ours = SimpleNamespace(
        compile=compile_whole, sub=SUBSTITUTE, escape=re.escape, IGNORECASE=re.IGNORECASE
    )
    functions.re = look.regex = ours


def compile_whole(pattern: str, flags: int = 0) -> re.Pattern[str]:
    """Compile a pattern of the engine so that it is for the whole cell, in one pass.

    Parameters
    ----------
    pattern : str
        Escaped letters between .* and . or .?.
    flags : int
        Of `re.compile`.

    Returns
    -------
    re.Pattern
        What stands between two * is looked for once, where it comes first: if the rest does not
        fit behind that, it fits behind no later place.

    Examples
    --------
    >>> match = compile_whole("a.*b.?d").match
    >>> bool(match("axxbcd")), bool(match("axxbd")), bool(match("axxbcde"))
    (True, False, False)
    """
    pieces = PIECES.findall(pattern.removeprefix("^").removesuffix("$"))
    parts = [""]
    for piece in pieces:
        if piece == ".*":
            parts.append("")
        else:
            parts[-1] += "." if piece == ".?" else piece
    first, *others = parts
    between = "".join(f"(?>.*?{part})" for part in others[:-1])
    end = "".join(f".*{part}" for part in others[-1:])
    return re.compile(rf"{first}{between}{end}\Z", flags | re.DOTALL | re.IGNORECASE)
