"""The steps of a formula with those apart that one branch of an IF alone needs.

The engine computes both branches of every IF. A spreadsheet computes the one that is taken, and a
template's row is mostly an IF around all that it comes to.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, MutableMapping, Sequence
from dataclasses import dataclass, replace
from itertools import takewhile
from typing import Any, TypeAlias

import formulas
import schedula
from formulas.functions import replace_empty

from lumbercalc.book.engine.numbers_in_areas import is_number
from lumbercalc.book.engine.values import each_value

Place: TypeAlias = tuple[tuple[int, int], ...]
"""The branches within which a step stands, from outside in: the step of the IF, and which of its
inputs it is."""

DEEPEST = 64
"""Functions within functions (specifications of Excel); of an IF within more both are computed."""


@dataclass(frozen=True)
class Step:
    """One step of a formula.

    Parameters
    ----------
    gives : str
        Name of its value.
    function : callable
        Of its inputs.
    takes : tuple of str
        Their names.
    branches : tuple of list of Step
        Of an IF: the steps of each branch that nothing else needs.
    """

    gives: str
    function: Callable[..., Any]
    takes: tuple[str, ...]
    branches: tuple[list[Step], ...] = ()

    def run(self, values: MutableMapping[str, Any]) -> None:
        """Add its value to those that are known; of an IF, what the branch needs that is taken.

        Parameters
        ----------
        values : mapping
            By name.
        """
        takes = self.takes
        if self.branches:
            taken = _taken(values[takes[0]])
            for number, branch in enumerate(self.branches, 1):
                if taken in (number, None):
                    run(branch, values)
            if taken is not None:  # the other one is not known
                instead = takes[taken] if taken < len(takes) else takes[0]  # there is no else
                takes = (takes[0], *[instead] * len(self.branches))
        given = [values[one] for one in takes]
        values[self.gives] = self.function(*[one for one in given if one is not schedula.NONE])


def run(steps: Sequence[Step], values: MutableMapping[str, Any]) -> None:
    """Compute steps one after another.

    Parameters
    ----------
    steps : sequence of Step
        In an order in which each finds what it takes.
    values : mapping
        What is known, by name; what they come to is added.
    """
    for step in steps:
        step.run(values)


def _taken(condition: Any) -> int | None:
    """Tell which input of an IF its condition takes; None where that is for the IF to say."""
    values = [replace_empty(value) for value in each_value(condition)]
    if len(values) != 1 or not is_number(values[0]):
        return None
    return 1 if values[0] else 2


def in_branches(steps: Sequence[Step]) -> list[Step]:
    """Put the steps that one branch of an IF alone needs into that branch.

    Parameters
    ----------
    steps : sequence of Step
        In order, without branches. The last one is the formula's answer.

    Returns
    -------
    list of Step
        What is computed always, and within it the branches.
    """
    choose = formulas.get_functions()["IF"]["function"]

    def branches(step: Step, place: Place) -> range:
        """Give those of its inputs that are branches."""
        is_one = step.function is choose and len(place) < DEEPEST
        return range(1, len(step.takes)) if is_one else range(0)

    uses: dict[str, list[Place]] = defaultdict(list)
    blocks: dict[Place, list[int]] = defaultdict(list)
    for number in reversed(range(len(steps))):
        step = steps[number]
        place = _common(uses[step.gives])
        blocks[place].append(number)
        for which, one in enumerate(step.takes):
            is_one = which in branches(step, place)
            uses[one].append((*place, (number, which)) if is_one else place)

    def block(place: Place) -> list[Step]:
        return [placed(steps[number], number, place) for number in reversed(blocks[place])]

    def placed(step: Step, number: int, place: Place) -> Step:
        within = (block((*place, (number, which))) for which in branches(step, place))
        return replace(step, branches=tuple(within))

    return block(())


def _common(places: Sequence[Place]) -> Place:
    """Give the innermost branch within which all places are."""
    together = zip(*places, strict=False)
    return tuple(ways[0] for ways in takewhile(lambda ways: len(set(ways)) == 1, together))
