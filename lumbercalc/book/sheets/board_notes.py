"""What may be wrong with a board's row: conditions and words."""

from __future__ import annotations

from lumbercalc.book.page.names import place
from lumbercalc.book.page.notes import (
    blank_around,
    first_note,
    late_among,
    of_named_row,
    text_among,
)
from lumbercalc.book.sheets.board_status import NO_PRICE, since
from lumbercalc.book.sheets.loads import NO_LOAD
from lumbercalc.book.sheets.named_stack import of_named_stack

ALLOWANCE_PCT = 5
"""How much more the pieces may tally than the board they were cut from: widths are read to the
quarter inch (common practice, no source)."""
LEAST_PIECES_PCT = 60
"""Of a board its pieces tally, less what is cut out of it (common practice, no source)."""

_GRANDPARENT = 'IFERROR(INDEX(board_parent,MATCH({parent},board_tag,0))&"","")'
_DATED = ("released", "ready", "used")

TAG_TWICE = "tag is used twice"
OWN_PARENT = "this board is its own parent"
NO_PARENT = "no such parent on Boards"
PIECES_OVER = f"cut up: its pieces tally over {ALLOWANCE_PCT} % more than it did"


def _unlike_its_stack(own: str, there: str) -> str:
    """Write the condition that a board that lies in a stack is of other wood than its stack."""
    return f'IF(OR({{lies}}="",NOT(ISNUMBER({{bf}}))),FALSE,IFERROR({there}<>{own},FALSE))'


NOTES = (
    (
        'SUMPRODUCT(ISNUMBER(FIND({"*","?","~"},{tag}))*1)>0',
        "a tag with * ? or ~ stands for others too: choose another",
    ),
    (f"{{first}}<>{place('board', 'tag')}", TAG_TWICE),
    blank_around("tag"),
    ('OR({quarters}="",{width}="",{length}="")', "thickness, width or length is missing"),
    (
        'IF({parent}="",FALSE,OR({parent}={tag},' + _GRANDPARENT + "={tag}))",
        OWN_PARENT,
    ),
    (
        'IF({parent}="",FALSE,ISNA(MATCH({parent},board_tag,0)))',
        NO_PARENT,
    ),
    (
        f"IF({{cut_up}}=1,SUMIFS(board_bf,board_parent,{{tag}})>{{bf}}*{1 + ALLOWANCE_PCT / 100},"
        "FALSE)",
        PIECES_OVER,
    ),
    (
        f"IF({{cut_up}}=1,SUMIFS(board_bf,board_parent,{{tag}})<{{bf}}*{LEAST_PIECES_PCT / 100},"
        "FALSE)",
        f"cut up: under {LEAST_PIECES_PCT} % of it is in its pieces; is one missing?",
    ),
    text_among(_DATED),
    late_among(_DATED),
    (
        'IF(OR({ready}="",{stack}=""),FALSE,'
        f"IFERROR({{ready}}<{of_named_stack('start')},FALSE))",
        "ready before its stack was stacked",
    ),
    ('{ready}<>"",{used}<>"",{used}<{ready}', "used before it was ready"),
    (
        'AND({insects}<>"",{insects}<>"none",{insects}<>"signs")',
        "held: insect signs must be none or signs",
    ),
    (
        '{held}=1,{status}="sold"',
        "sold, and held for insect signs",
    ),
    ('{cut_up}=1,{status}="sold"', "sold, and cut up"),
    (f'{since("used")},{{status}}="sold"', "sold, and used"),
    (
        '{held}=1,{released}<>"",{treatment}=""',
        "held: what was done is missing",
    ),
    ("{held}=1", "held: insect signs, keep it apart"),
    (
        'IF({stack}="",FALSE,ISNA(MATCH({stack},stack_name,0)))',
        "no such stack on Stacks",
    ),
    (
        _unlike_its_stack("{species}", of_named_stack("species")),
        "its stack is of another species on Stacks, or of another name of it",
    ),
    (
        _unlike_its_stack("TRIM({quarters})", f"TRIM({of_named_stack('quarters')})"),
        "its stack is of another thickness on Stacks",
    ),
    ('{species}=""', "the species is missing"),
    (
        'IF(OR({parent}="",{load}<>""),FALSE,'
        'IFERROR(INDEX(board_load,MATCH({parent},board_tag,0))<>"",FALSE))',
        "the load of the board it was cut from is missing here",
    ),
    ('IF({load}="",FALSE,ISNA(MATCH({load},load_name,0)))', NO_LOAD),
    (
        f'IFERROR(IF({{price}}="{NO_PRICE}",ISNA(MATCH({{species}},species_names,0)),FALSE),FALSE)',
        "no price for this name: choose the species from the list",
    ),
)
"""When a board's row is to be looked at (conditions that hold together), and the words."""


def note(why: str) -> str:
    """Write the check of a board's row.

    Parameters
    ----------
    why : str
        Formula of the reason that its figures are refused, or "".

    Returns
    -------
    str
        The first of the notes that holds, else the reason, else "ok".
    """
    return of_named_row("tag", ("log", "used"), "the tag is missing", first_note(NOTES, why))
