"""Values in the XML of a sheet: each kind as a file has it, and all else of the cell as it was."""

from __future__ import annotations

import pytest

from lumbercalc.book.xlsx.cell_value import CellValue
from lumbercalc.book.xlsx.value_xml import put_values

REST = '<extLst><ext uri="{0}"/></extLst>'
SHEET = (
    "<worksheet><sheetData>"
    '<row r="1"><c r="A1" s="3" t="str"><f>B1&amp;""</f><v>old</v>%s</c>'
    '<c r="B1"><v>1</v></c></row></sheetData></worksheet>'
)


# types of cells and _xHHHH_ for what XML cannot hold: ECMA-376 Part 1, 18.18.11 and 22.9.2.19, from
# memory
@pytest.mark.parametrize(
    ("value", "kind", "text"),
    [
        (2.5, "", "2.5"),
        (0.1 + 0.2, "", "0.30000000000000004"),  # every digit: another one is another number
        (True, ' t="b"', "1"),
        ("#NUM!", ' t="e"', "#NUM!"),
        ("a < b & c", ' t="str"', "a &lt; b &amp; c"),
        ("a\x0bb\ufffe", ' t="str"', "a_x000B_b_xFFFE_"),
        ("tab\tand\nline", ' t="str"', "tab\tand\nline"),
    ],
)
def test_a_value_is_stored_as_its_kind_and_the_cell_keeps_the_rest(
    value: CellValue, kind: str, text: str
) -> None:
    content = (SHEET % REST).encode()
    cell = f'<c r="A1" s="3"{kind}><f>B1&amp;""</f><v>{text}</v>{REST}</c>'
    expected = content[: content.index(b"<c ")].decode() + cell
    expected += content[content.index(b'<c r="B1"') :].decode()
    assert put_values(content, {"A1": value}, every=True).decode() == expected


def test_a_formula_without_a_value_is_told() -> None:
    with pytest.raises(KeyError, match="A1"):
        put_values((SHEET % "").encode(), {}, every=True)
    assert put_values((SHEET % "").encode(), {}, every=False) == (SHEET % "").encode()
