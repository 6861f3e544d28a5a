"""The catalogue: names, arguments, documents and examples of every worksheet function."""

from __future__ import annotations

import keyword
import re
import subprocess
import sys

import formulas
import pytest
from numpydoc.docscrape import FunctionDoc
from openpyxl.formula import Tokenizer
from openpyxl.utils import FORMULAE, column_index_from_string

import lumbercalc as lc
from lumbercalc.hosts.calc.office import Office
from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Argument, Function
from lumbercalc.sheet.python_help import example
from tests.hosts.calc.calc_session import Calc

FUNCTIONS = pytest.mark.parametrize("function", CATALOGUE.values(), ids=lambda f: f.name)

CONTRACT = """
Tally
THICKNESS_IN(quarters)
BOARD_FEET(thickness, width_in, length_ft, [pieces=1])
SURFACE_MEASURE(width_in, length_ft, [by_turns=FALSE])
TALLY_BOARD_FEET(thickness, width_in, length_ft, [pieces=1])
LOG_SCALE(diameter_in, length_ft, rule)
NET_BOARD_FEET(gross_bf, shrink_pct)
CUBIC_METERS(board_feet)
TALLY_SUMMARY(species, thickness, bf, [grade], [row_count])

Weight and water
LUMBER_WEIGHT(species, board_feet, mc_pct, [sawn_ratio=1])
WATER_LOSS(species, board_feet, mc_from, mc_to)
DEHUMIDIFIER_PINTS(species, board_feet, mc_loss_per_day)
FLOOR_LOAD(weight_lb, length_ft, width_ft)

Air
EMC(temp_f, rh_pct)
RH_FOR_EMC(temp_f, emc_pct)
EMC_WET_BULB(dry_bulb_f, wet_bulb_f, [elevation_ft=0])
DEW_POINT(temp_f, rh_pct)
HEATED_RH(temp_f, rh_pct, room_temp_f)
MEAN_EMC(temps_f, rhs_pct)
EXIT_RH(temp_f, rh_pct, water_lb_per_day, cfm)
MOLD_INDEX(temps_f, rhs_pct, [hours_per_row=24], [wood_class="sensitive"])

Moisture content
MC_BY_WEIGHT(weight, ovendry_weight)
OVENDRY_WEIGHT(weight, mc_pct)
WEIGHT_AT_MC(ovendry_weight, mc_pct)
MC_PIN(reading_pct, species, wood_temp_f, [calibration_temp_f=70])
MC_PINLESS(reading_pct, meter_sg, species)
MATCHES_DRY_SAMPLE(reading, dry_reading, [tolerance=1])
MC_UPPER(readings, [confidence_pct=95], [stacks], [stack])
SHARE_WITHIN(readings, target_pct, [tolerance=1], [stacks], [stack])
SAMPLES_NEEDED(sd_pct, margin_pct, [confidence_pct=95])
READINESS(readings, target_pct, [tolerance=1], [confidence_pct=95], [stacks], [stack])

Shrinkage
SHRINKAGE(species, direction, mc_from, mc_to)
SIZE_AT_MC(size, species, direction, mc_from, mc_to)
SAWN_SIZE(finished_size, species, direction, mc_green, mc_final, [allowance=0])
WIDTH_MOVEMENT(width_in, species, direction, mc_from, mc_to)

Drying
STACK_FACTOR(setting)
DRYING_DAYS(species, thickness_in, green_mc, target_mc, temp_f, rh_pct, [stack_factor=1], [rate=1])
MC_FORECAST(species, thickness_in, green_mc, start_date, forecast_date, climate, [stack_factor=1],
    [rate=1], [from_date], [from_mc], [place], [rate_spread], [band="likely"], [move_date],
    [move_place], [move_factor])
READY_DATE(species, thickness_in, green_mc, start_date, target_mc, climate, [stack_factor=1],
    [rate=1], [rate_spread], [from_date], [from_mc], [band="likely"], [place], [move_date],
    [move_place], [move_factor])
DRYING_CURVE(species, thickness_in, green_mc, start_date, target_mc, climate, [stack_factor=1],
    [rate=1], [rate_spread], [from_date], [from_mc], [place], [step_days=7], [row_count],
    [move_date], [move_place], [move_factor])
SAFE_RATE(species, thickness_in)
MOVE_PLAN(species, thickness_in, green_mc, start_date, target_mc, climate, place, move_place,
    board_feet, [stack_factor=1], [move_factor], [rate=1], [from_date], [from_mc],
    [step_days=14], [row_count])
DRYING_RATE(dates, mcs, species, thickness_in, green_mc, start_date, climate, [stack_factor=1],
    [boards], [place], [stacks], [stack], [move_date], [move_place], [move_factor])
RATE_SPREAD(dates, mcs, species, thickness_in, green_mc, start_date, climate, [stack_factor=1],
    [boards], [place], [stacks], [stack], [move_date], [move_place], [move_factor])

Stack
STICKERS(length_ft, [spacing_in=16])
STACK_LAYERS(height_in, thickness_in, sticker_in, [base_in=0])
STACK_HEIGHT(layers, thickness_in, sticker_in, [base_in=0])
STACK_BOARD_FEET(layers, width_ft, length_ft, thickness_in, [fill_pct=90])
FAN_CFM(layers, sticker_in, length_ft, velocity_fpm)
TOP_WEIGHT(length_ft, width_ft, [psf=50])
STICKER_ADVICE(stack_width_ft, sticker_in, fan)

Care
HEAT_TREATED(minutes, core_temps_f, [charges], [charge])

Sale
COST_PER_BF(total_cost, green_bf, shrink_pct, degrade_pct)
PRICE_FOR_MARGIN(cost, margin_pct)
CARRYING_COST(value, annual_pct, days)
LINE_TOTAL(board_feet, price_per_bf, [discount_pct=0])
SALES_TAX(amount, tax_pct)
SLAB_AREA(widths_in, length_ft)
MC_STATEMENT(readings, reading_date, [method], [dates], [stacks], [stack])
MOVEMENT_LINE(width_in, species, mc_from, mc_to)
DEHUMIDIFIER_KWH(water_lb, litres_per_kwh)
FAN_KWH(watts, hours)
SPACE_COST(area_ft2, rent_per_month, days)
SHRINK_SO_FAR(shrink_pct, mc_pct, target_mc)

Reference
SPECIES_VALUE(species, figure)
SPECIES_SOURCE(species, figure)
PROBLEM(name, [arguments])
LUMBERCALC_VERSION()
"""
"""The functions as users of a workbook know them; a change here breaks their sheets.

rate_spread left out is 0.35, or 0.5 where the species' drying constant is an estimate.
"""


def written(argument: Argument) -> str:
    """Write an argument as the contract does."""
    if not argument.optional:
        return argument.name
    if argument.default in (None, ""):
        return f"[{argument.name}]"
    default = "FALSE" if argument.default is False else argument.default
    quoted = f'"{default}"' if argument.kind in ("choice", "text") else default
    return f"[{argument.name}={quoted}]"


def test_names_arguments_order_and_defaults_are_the_contract() -> None:
    groups: dict[str, list[str]] = {}
    for function in CATALOGUE.values():
        arguments = ", ".join(map(written, function.arguments))
        groups.setdefault(function.group, []).append(f"{function.name}({arguments})")
    listed = "\n\n".join("\n".join([group, *lines]) for group, lines in groups.items())
    assert listed == re.sub(r"\n    ", " ", CONTRACT).strip(), "CONTRACT here says it otherwise"


@pytest.mark.parametrize(("species", "spread"), [("white oak", 0.35), ("sassafras", 0.5)])
def test_the_rate_spread_that_is_left_out(species: str, spread: float) -> None:
    ready = (species, 1.125, 80, "2026-05-01", 20, [[70, 50]] * 12, 1, 1)
    late = lc.ready_date(*ready, band="late")
    assert late == lc.ready_date(*ready, spread, band="late")
    assert late != lc.ready_date(*ready, 0.85 - spread, band="late")


@FUNCTIONS
def test_optional_arguments_come_last(function: Function) -> None:
    optional = [argument.optional for argument in function.arguments]
    assert optional == sorted(optional)
    assert len({argument.name for argument in function.arguments}) == len(optional)


@FUNCTIONS
def test_documented_parameters_are_the_signature(function: Function) -> None:
    python = getattr(lc, function.python_name)
    document = FunctionDoc(python)
    stars = [
        "*" if function.repeats and a is function.arguments[-1] else "" for a in function.arguments
    ]
    assert [parameter.name for parameter in document["Parameters"]] == [
        star + argument.name for star, argument in zip(stars, function.arguments, strict=True)
    ]
    for parameter, argument in zip(document["Parameters"], function.arguments, strict=True):
        assert parameter.desc == [argument.description]
        assert ("optional" in parameter.type) is argument.optional
    assert document["Summary"] == [function.summary]
    assert document["Returns"][0].desc == [function.result]
    assert [raised.type for raised in document["Raises"]] == ["ValueError"]
    assert document["Notes"] == [f"Source: {function.source}"]
    assert f">>> {example(function)}" in document["Examples"]


@FUNCTIONS
def test_texts_are_sentences_without_layout(function: Function) -> None:
    assert function.summary.endswith(".")
    for text in (function.summary, function.result, function.source, *descriptions(function)):
        assert text == " ".join(text.split())
    assert len(function.summary) <= 91  # one line of the stub


def descriptions(function: Function) -> list[str]:
    return [argument.description for argument in function.arguments]


ARGUMENTS = pytest.mark.parametrize(
    "argument",
    [
        pytest.param(argument, id=f"{function.name}-{argument.name}")
        for function in CATALOGUE.values()
        for argument in function.arguments
    ],
)


@ARGUMENTS
def test_every_limit_has_a_unit_and_words(argument: Argument) -> None:
    limits = argument.limits
    assert limits.unit
    assert limits.words()
    assert argument.about
    assert argument.about.split()[0] not in ("a", "an", "the")
    if argument.kind in ("number", "thickness"):
        assert limits.lowest is not None
        assert limits.highest is not None
        assert limits.lowest < limits.highest
        assert limits.unit in limits.words()
    if argument.kind == "choice":
        assert limits.choices
        assert set(limits.also.values()) <= set(limits.choices)


@ARGUMENTS
def test_defaults_are_inside_the_limits(argument: Argument) -> None:
    if argument.kind in ("number", "thickness") and isinstance(argument.default, (int, float)):
        assert argument.limits.inside(float(argument.default))
    if argument.kind == "choice" and argument.optional:
        assert argument.default in argument.limits.choices


@pytest.mark.parametrize(
    ("function", "name", "said"),
    [
        ("EMC", "rh_pct", "relative humidity: from 1 to 100 % RH"),
        ("LUMBER_WEIGHT", "species", "species by a trade name"),
        ("BOARD_FEET", "pieces", ": a whole number from 1 to 100000 pieces; 1 when left out"),
        ("READY_DATE", "start_date", "day the drying began"),
        ("READY_DATE", "band", ': one of "early", "likely", "late"; likely when left out'),
        ("READY_DATE", "place", "place in the climate table"),
        ("SURFACE_MEASURE", "by_turns", "up and down by turns; FALSE when left out"),
    ],
)
def test_descriptions(function: str, name: str, said: str) -> None:
    (argument,) = (a for a in CATALOGUE[function].arguments if a.name == name)
    assert argument.description.endswith(said)
    assert argument.description.startswith(argument.about)


# Examples


@FUNCTIONS
def test_the_example_gives_the_answer_declared(function: Function) -> None:
    answer = call(function.name, function.example.arguments)
    assert answer.problems == {}
    assert answer.remarks == {}
    value = answer.rows(problem=str, day=str)[0][0]
    if isinstance(function.example.answer, float):
        assert format(value, ".7g") == format(function.example.answer, ".7g")
    else:
        assert value == function.example.answer


def test_no_example_opens_a_file_or_a_connection() -> None:
    """Any file, socket or process that is opened ends the program."""
    program = """
import sys
from scipy.optimize import elementwise  # lumbercalc imports these late, to start quickly
from scipy.special import ndtri, stdtrit
import lumbercalc as lc
from lumbercalc.sheet.call import call
from lumbercalc.sheet.catalogue import CATALOGUE

def refuse(event, arguments):
    if event.startswith(("open", "socket.", "subprocess.", "urllib.", "os.system")):
        raise AssertionError(f"{event}: {arguments}")

sys.addaudithook(refuse)
for function in CATALOGUE.values():
    answer = call(function.name, function.example.arguments)
    assert not answer.problems, function.name
print(len(CATALOGUE))
"""
    ran = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout.strip() == str(len(CATALOGUE))


@FUNCTIONS
def test_the_examples_formula_is_one_call_of_the_function(function: Function) -> None:
    tokens = Tokenizer(f"={function.formula}").items
    assert (tokens[0].value, tokens[0].type, tokens[0].subtype) == (
        f"{function.name}(",
        "FUNC",
        "OPEN",
    )
    assert (tokens[-1].type, tokens[-1].subtype) == ("FUNC", "CLOSE")
    depth, commas = 0, 0
    for token in tokens[1:-1]:
        depth += {"OPEN": 1, "CLOSE": -1}.get(token.subtype, 0)
        commas += token.type == "SEP" and token.subtype == "ARG" and depth == 0
    assert commas == max(len(function.example.arguments) - 1, 0)
    assert all(token.subtype != "ERROR" for token in tokens)


# Names

VBA_WORDS = """
Call Case Close Const Declare DefBool DefByte DefCur DefDate DefDbl DefInt DefLng DefLngLng
DefLngPtr DefObj DefSng DefStr DefVar Dim Do Else ElseIf End EndIf Enum Erase Event Exit For Friend
Function Get Global GoSub GoTo If Implements Input Let Lock Loop LSet Next On Open Option Print
Private Public Put RaiseEvent ReDim Resume Return RSet Seek Select Set Static Stop Sub Type Unlock
Wend While With Write Any As ByRef ByVal Each In New Shared Until WithEvents Optional ParamArray
Preserve Spc Tab Then To AddressOf And Eqv Imp Is Like Mod Not Or TypeOf Xor Abs CBool CByte CCur
CDate CDbl CDec CInt CLng CLngLng CLngPtr CSng CStr CVar CVErr Date Debug DoEvents Fix Int Len LenB
Me PSet Scale Sgn String Array Circle InputB LBound UBound Boolean Byte Currency Double Integer Long
LongLong LongPtr Single Variant True False Nothing Empty Null Rem Attribute CDecl Decimal DefDec
"""
"""Reserved identifiers: Microsoft MS-VBAL 3.3.5.2; the end of the list from memory."""

EXCEL = {name.upper() for name in formulas.get_functions()} | set(FORMULAE)
EXCEL |= {name.removeprefix("_XLFN.").removeprefix("_XLWS.") for name in EXCEL}

SHARED_WITH_BUILT_INS = {"rate", "value", "days"}
"""Arguments named as the contract fixes them, though RATE, VALUE and DAYS are functions too.

An argument's name is only shown, never calculated, so a host does not confuse the two.
"""

NAMES = sorted({a.name for f in CATALOGUE.values() for a in f.arguments} | set(CATALOGUE))


def is_cell_address(name: str) -> bool:
    """Whether a name is a cell of Excel or Calc, in A1 or R1C1 style, whatever its case.

    Both hosts have columns up to XFD at most (Excel 2007 and later; Calc with very large sheets,
    otherwise AMJ) and 1,048,576 rows.
    """
    a1 = re.fullmatch(r"([A-Z]{1,3})([0-9]{1,7})", name.upper())
    if a1 and column_index_from_string(a1[1]) <= 16384:
        return 1 <= int(a1[2]) <= 1_048_576
    return re.fullmatch(r"R[0-9]*(C[0-9]*)?|C[0-9]*", name.upper()) is not None


@pytest.mark.parametrize("name", ["A1", "xfd1048576", "AMJ1", "R1C1", "rc", "R", "c", "R2", "EMC1"])
def test_what_is_a_cell_address(name: str) -> None:
    assert is_cell_address(name)


@pytest.mark.parametrize("name", ["XFE1", "A1048577", "A0", "EMC", "mc_to", "AAAA1", "RATE"])
def test_what_is_no_cell_address(name: str) -> None:
    assert not is_cell_address(name)


@pytest.mark.parametrize("name", NAMES)
def test_names_are_safe_in_a_spreadsheet_in_vba_and_in_python(name: str) -> None:
    assert re.fullmatch(r"[A-Za-z][A-Za-z0-9_]*", name)
    assert not is_cell_address(name)
    assert not keyword.iskeyword(name.lower())
    assert not keyword.issoftkeyword(name.lower())
    assert name.lower() not in VBA_WORDS.lower().split()
    assert name.upper() not in ("TRUE", "FALSE")


@pytest.mark.parametrize("name", NAMES)
def test_names_are_no_built_in_function_of_excel(name: str) -> None:
    assert {"SUM", "XLOOKUP", "RATE"} <= EXCEL
    assert (name.upper() in EXCEL) is (name in SHARED_WITH_BUILT_INS)


@pytest.mark.calc
def test_names_are_no_built_in_function_of_calc(own_office: Office) -> None:
    calc = Calc(own_office)  # without the add-in
    try:
        built_in = {name.upper() for name in calc.functions()}
    finally:
        calc.quit()
    assert {"SUM", "EASTERSUNDAY"} <= built_in
    assert {name for name in NAMES if name.upper() in built_in} == SHARED_WITH_BUILT_INS
