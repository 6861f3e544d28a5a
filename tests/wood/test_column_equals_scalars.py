"""A column call gives, row by row, what the scalar calls give."""

import inspect
from types import ModuleType

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lumbercalc.wood import (
    air,
    care,
    costs,
    log_scale,
    moist_air,
    mold,
    sale,
    stack,
    sticker_advice,
    tally,
    tally_summary,
    weight,
)

inches = st.floats(0.25, 40)
feet = st.floats(1, 40)
pieces = st.integers(1, 500)
percents = st.floats(0, 99)
moistures = st.floats(0, 120)
temperatures = st.floats(-10, 160)
money = st.floats(0, 1e5)
amounts = st.floats(0.1, 1e5)
species = st.sampled_from(["Oak, northern red", "Walnut, black", "Yellow-poplar", "Ash, white"])
rules = st.sampled_from(["Doyle", "International 1/4"])

ROWS = {
    tally.thickness_in: (inches,),
    tally.board_feet: (inches, inches, feet, pieces),
    tally.surface_measure: (inches, feet),
    tally.tally_board_feet: (inches, inches, feet, pieces),
    log_scale.log_scale: (inches, feet, rules),
    tally.net_board_feet: (amounts, percents),
    tally.cubic_meters: (amounts,),
    tally.halves_up: (amounts,),
    weight.lumber_weight: (species, amounts, moistures, st.floats(0.5, 2)),
    weight.water_loss: (species, amounts, moistures, moistures),
    weight.dehumidifier_pints: (species, amounts, st.floats(0, 15)),
    weight.floor_load: (amounts, feet, feet),
    air.celsius: (temperatures,),
    air.emc: (temperatures, percents),
    air.rh_for_emc: (temperatures, st.floats(0, 40)),
    moist_air.emc_wet_bulb: (temperatures, temperatures, st.floats(0, 10000)),
    moist_air.dew_point: (temperatures, percents),
    moist_air.heated_rh: (temperatures, percents, temperatures),
    moist_air.exit_rh: (
        st.floats(-10, 140),
        st.floats(1, 100),
        st.floats(0, 1000),
        st.floats(1, 1e4),
    ),
    stack.stickers: (feet, st.floats(4, 48)),
    stack.stack_layers: (st.floats(20, 300), inches, inches, st.floats(0, 20)),
    stack.stack_height: (pieces, inches, inches, st.floats(0, 20)),
    stack.stack_board_feet: (pieces, feet, feet, inches, percents),
    stack.fan_cfm: (pieces, inches, feet, st.floats(1, 1000)),
    stack.top_weight: (feet, feet, st.floats(1, 300)),
    sticker_advice.sticker_advice: (st.floats(0.5, 16), st.floats(0.25, 3), st.booleans()),
    costs.dehumidifier_kwh: (amounts, st.floats(0.5, 5)),
    costs.fan_kwh: (amounts, amounts),
    costs.space_cost: (amounts, money, st.integers(0, 3650)),
    costs.shrink_so_far: (percents, moistures, st.floats(4, 20)),
    costs.cost_per_bf: (money, amounts, percents, percents),
    sale.price_for_margin: (money, percents),
    costs.carrying_cost: (money, percents, st.integers(0, 3650)),
    sale.line_total: (amounts, money, percents),
    sale.sales_tax: (money, percents),
}

# These take a whole block or a text and give one thing.
ONE_RESULT = {
    air.mean_emc,
    care.deciding_gap,
    care.heat_treated,
    care.longest_heat,
    mold.mold_index,
    sale.mc_statement,
    tally.slab_area,
    tally.inches_from_quarters,
    tally_summary.tally_summary,
}

# These are equations between the columns of a record, with a limit of one wood class.
WITHIN_A_RECORD = {mold.critical_rh, mold.weeks_to_index_1, mold.weeks_to_index_3}

MODULES = (
    air,
    care,
    costs,
    log_scale,
    moist_air,
    mold,
    sale,
    stack,
    sticker_advice,
    tally,
    tally_summary,
    weight,
)


def public_functions(module: ModuleType) -> set:
    return {
        function
        for name, function in inspect.getmembers(module, inspect.isfunction)
        if not name.startswith("_") and function.__module__ == module.__name__
    }


def test_every_function_is_in_the_table():
    public = set().union(*map(public_functions, MODULES))
    listed = set(ROWS) | ONE_RESULT | WITHIN_A_RECORD
    assert public == listed, "ROWS takes what each argument may be; or it gives ONE_RESULT"


@pytest.mark.parametrize("function", ROWS, ids=lambda function: function.__name__)
@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_column_equals_scalars(function, data):
    rows = data.draw(st.lists(st.tuples(*ROWS[function]), min_size=1, max_size=6))
    column = function(*zip(*rows, strict=True))
    assert column.shape == (len(rows),)
    if function is sticker_advice.sticker_advice:
        assert column.tolist() == [str(function(*row)) for row in rows]
        return
    assert column.dtype == np.float64
    np.testing.assert_allclose(column, [function(*row) for row in rows], rtol=1e-12, atol=1e-12)


@pytest.mark.parametrize("function", ROWS, ids=lambda function: function.__name__)
@settings(max_examples=10, deadline=None)
@given(data=st.data())
def test_one_cell_serves_a_whole_column(function, data):
    first, *others = data.draw(st.tuples(*ROWS[function]))
    column = function([first, first, first], *others)
    np.testing.assert_array_equal(column, function(*([x] * 3 for x in (first, *others))))
