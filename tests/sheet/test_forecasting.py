"""The arguments that the forecasts of the catalogue share."""

from __future__ import annotations

from dataclasses import fields

import pytest

from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.wood.drying_course import DryingCourse


@pytest.mark.parametrize("name", ["MC_FORECAST", "READY_DATE", "DRYING_CURVE"])
def test_a_forecast_asks_for_every_figure_of_a_drying_course(name: str) -> None:
    asked = {argument.name for argument in CATALOGUE[name].arguments}
    assert {field.name for field in fields(DryingCourse)} <= asked
