"""One thing that a spreadsheet needs to have the functions, and whether it is so."""

from __future__ import annotations

from typing import NamedTuple


class Step(NamedTuple):
    """One thing that is needed, and whether it is so."""

    name: str
    done: bool
    detail: str

    def __str__(self) -> str:
        """Give the step as one line."""
        return f"{'done   ' if self.done else 'missing'}  {self.name}: {self.detail}"
