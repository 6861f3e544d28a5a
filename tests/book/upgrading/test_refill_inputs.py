"""Lists that are shorter today than the shop's: what finds no room is kept."""

from __future__ import annotations

from openpyxl.workbook import Workbook

from lumbercalc.book.inputs import SPECIES, Cells, Kind
from lumbercalc.book.page.names import define
from lumbercalc.book.upgrading.kept import Kept
from lumbercalc.book.upgrading.refill import Refill
from lumbercalc.book.upgrading.refill_inputs import bring_cells, bring_species
from lumbercalc.book.xlsx.old_workbook import OldCell, OldWorkbook
from lumbercalc.book.xlsx.places import Area


def on_its_way(name: str, texts: list[str]) -> Refill:
    """A list of an older workbook, in A5 and below, and a new workbook with the same sheet."""
    cells = {("Lists", row, 1): OldCell(text) for row, text in enumerate(texts, 5)}
    workbook = Workbook()
    workbook.worksheets[0].title = "Lists"
    old = OldWorkbook(cells, {name: Area("Lists", 1, 5, 1, 4 + len(texts))})
    return Refill(old, 1, workbook)


def test_what_finds_no_room_in_a_list_is_kept() -> None:
    refill = on_its_way("place_names", ["yard", "shed", "basement"])
    bring_cells(
        refill, "place_names", Cells([("Lists", 7, 2), ("Lists", 8, 2)], Kind("Place", "@"))
    )
    sheet = refill.workbook["Lists"]
    assert [sheet[f"B{row}"].value for row in (7, 8, 9)] == ["yard", "shed", None]
    assert refill.kept == [Kept("Lists", "A7", "basement", "no room in Place")]


def test_a_species_that_finds_no_room_is_kept() -> None:
    refill = on_its_way(SPECIES, ["Oak, white", "Osage orange", "Mulberry, red"])
    refill.workbook["Lists"]["A5"].value = "Oak, white"
    define(refill.workbook, SPECIES, "'Lists'!$A$5:$A$6")
    bring_species(refill)
    assert refill.workbook["Lists"]["A6"].value == "Osage orange"
    assert refill.kept == [Kept("Lists", "A7", "Mulberry, red", "no room under the species")]
