"""A formula's steps, one after another: the engine would plan them anew for every cell."""

from __future__ import annotations

from functools import cached_property
from typing import Any

import schedula
from formulas.builder import AstBuilder
from schedula.utils.dsp import SubDispatch, parent_func

from lumbercalc.book.engine.branches import Step, in_branches, run


def register() -> None:
    """Have the engine make its formulas of `Steps`."""
    AstBuilder.compile_class = Steps


class Steps(schedula.DispatchPipe):  # type: ignore[misc]  # the engine has no types
    """A compiled formula that calls its functions in the order that was found when it was compiled.

    What is no plain step (a function that is itself a plan), and what fails, is left to the engine,
    which then answers or raises as it always does.
    """

    @cached_property
    def steps(self) -> list[Step] | None:
        """The steps in their order, found at the first call; None where some are not plain."""
        found: list[Step] = []
        for (*_, (name, solution)), _, inner in self.pipe:
            if inner or solution is not self._sol:
                return None
            node = self.dsp.nodes.get(name)
            if node is None:  # where the plan starts
                continue
            if node["type"] == "function":
                function, outputs = node["function"], node["outputs"]
                plan = isinstance(parent_func(function), (SubDispatch, schedula.Dispatcher))
                if plan or len(outputs) != 1 or {"input_domain", "filters"} & node.keys():
                    return None
                found.append(Step(outputs[0], function, tuple(node["inputs"])))
            elif node.keys() & {"function", "callback"}:
                return None
            else:
                found.extend(Step(name, change, (name,)) for change in node.get("filters", ()))
        return in_branches(found)

    @cached_property
    def given(self) -> dict[str, Any]:
        """The constants of the formula."""
        return {name: value["value"] for name, value in self.dsp.default_values.items()}

    def __call__(self, *cells: Any, **how: Any) -> Any:
        """Compute the formula of some cells.

        Parameters
        ----------
        *cells : object
            What its areas hold.
        **how
            Of the engine.

        Returns
        -------
        object
            As the engine gives it.
        """
        if self.steps is not None:
            values = {**self.given, **dict(zip(self.inputs or (), cells, strict=True))}
            try:
                run(self.steps, values)
                answer = values[self.outputs[0]]
            except Exception:  # of whatever kind: the engine says what becomes of it
                answer = schedula.NONE
            if answer is not schedula.NONE:
                return answer
        return super().__call__(*cells, **how)
