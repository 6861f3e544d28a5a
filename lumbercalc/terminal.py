"""What a terminal is given of texts that strangers wrote: letters, and nothing that steers it."""

from __future__ import annotations

import re
from typing import Any

from rich.text import Text

STEERING = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""Control characters but tab and line break, and the marks that turn the direction of writing."""


def harmless(text: str) -> str:
    r"""Put a mark in the place of what a terminal would obey in place of showing it.

    Parameters
    ----------
    text : str
        Such as a cell, or the name of a file.

    Returns
    -------
    str
        As long as it was.

    Examples
    --------
    >>> print(harmless("WA-1\x1b[2J"))
    WA-1�[2J
    """
    return STEERING.sub("\ufffd", text)


def text_cell(value: Any) -> Text:
    """Show a cell's text as it is: brackets in it are no markup, nothing steers the terminal.

    Parameters
    ----------
    value : object
        Of the cell; None is a blank one.

    Returns
    -------
    rich.text.Text
        For a row of a table.
    """
    return Text("" if value is None else harmless(str(value)))
