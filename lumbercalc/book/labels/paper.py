"""Label paper: sizes by their dimensions, and where each label stands on the page."""

from __future__ import annotations

from dataclasses import dataclass

PAGE_WIDTH, PAGE_HEIGHT = 8.5, 11.0
"""Letter [in]."""


@dataclass(frozen=True)
class Paper:
    """A page of labels; all lengths in inches.

    Parameters
    ----------
    height, width : float
        Of a label.
    rows, columns : int
        Of labels on the page.
    across : float
        From the left edge of a label to that of the next; from top to bottom labels touch.

    Notes
    -----
    The labels stand in the middle of the page, so the margins follow from the sizes (common
    practice for Letter pages of these sizes, no source: hold a print against the sheet).
    """

    height: float
    width: float
    rows: int
    columns: int
    across: float

    @property
    def count(self) -> int:
        """Labels on a page."""
        return self.rows * self.columns

    @property
    def left(self) -> float:
        """Left and right margin [in]."""
        return (PAGE_WIDTH - (self.columns - 1) * self.across - self.width) / 2

    @property
    def top(self) -> float:
        """Top and bottom margin [in]."""
        return (PAGE_HEIGHT - self.rows * self.height) / 2

    def place(self, number: int) -> tuple[int, float, float]:
        """Give the place of a label.

        Parameters
        ----------
        number : int
            From 0, along the rows, page after page.

        Returns
        -------
        tuple of (int, float, float)
            Page, and the label's left and top edge from the page's left and top edge [in].

        Examples
        --------
        >>> PAPERS["2x4"].place(13)
        (1, 4.34375, 2.5)
        """
        page, on_page = divmod(number, self.count)
        row, column = divmod(on_page, self.columns)
        return page, self.left + column * self.across, self.top + row * self.height


PAPERS = {
    "1x2-5/8": Paper(1, 2.625, 10, 3, 2.75),
    "1-1/3x4": Paper(4 / 3, 4, 7, 2, 4.1875),
    "2x4": Paper(2, 4, 5, 2, 4.1875),
    "3-1/3x4": Paper(10 / 3, 4, 3, 2, 4.1875),
}
"""Height x width in inches: 30, 14, 10 and 6 labels to a Letter page."""


def paper_of(size: str) -> Paper:
    """Give the paper of a size.

    Parameters
    ----------
    size : str
        Height x width in inches, such as "1x2-5/8" or '1 x 2-5/8 in'.

    Returns
    -------
    Paper
        Its page.

    Raises
    ------
    ValueError
        For a size that is not in `PAPERS`.

    Examples
    --------
    >>> paper_of("2 x 4 in").count
    10
    """
    plain = size.casefold().replace(" ", "").removesuffix("in").replace('"', "")
    if plain not in PAPERS:
        known = ", ".join(f"{name} ({paper.count} a page)" for name, paper in PAPERS.items())
        raise ValueError(f"paper size {size[:40]!r} is not known; it must be one of: {known}")
    return PAPERS[plain]
