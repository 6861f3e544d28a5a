"""The one list of the worksheet functions: hosts, help, documents and sheets are made from it."""

from __future__ import annotations

from types import MappingProxyType

from lumbercalc.sheet.function import Function
from lumbercalc.sheet.groups import (
    air,
    calibration,
    care,
    costs,
    drying,
    moisture,
    moving,
    reference,
    sale,
    shrinkage,
    stack,
    tally,
    weight,
)

CATALOGUE: MappingProxyType[str, Function] = MappingProxyType(
    {
        function.name: function
        for group in (
            *(tally, weight, air, moisture, shrinkage),
            *(drying, moving, calibration),
            *(stack, care, sale, costs, reference),
        )
        for function in group.FUNCTIONS
    }
)
"""Every function by its name, in the order of the groups."""
