"""The VBA module: VBA's limits, every function of the catalogue, and the help that Excel shows."""

from __future__ import annotations

import re

import pytest

from lumbercalc.hosts.excel.wrappers import WITH_DATES, argument_name, wrappers_text
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Function
from lumbercalc.sheet.help import argument_help, function_help
from lumbercalc.sheet.refusal import MARKER
from tests.hosts.calc.calc_session import Calc

TEXT = wrappers_text()
LINES = TEXT.split("\r\n")[:-1]
STATEMENTS = re.sub(r" _\r\n +", " ", TEXT).replace("( ", "(").split("\r\n")
"""The lines, with those that a line continuation parts made one."""

LITERAL = re.compile(r'"((?:[^"]|"")*)"')
EACH = pytest.mark.parametrize("function", CATALOGUE.values(), ids=lambda one: one.name)


def literals(statement: str) -> list[str]:
    return [text.replace('""', '"') for text in LITERAL.findall(statement)]


def body(name: str) -> list[str]:
    start = next(i for i, line in enumerate(STATEMENTS) if f"Public Function {name}(" in line)
    return STATEMENTS[start : STATEMENTS.index("End Function", start)]


def test_it_is_a_text_that_any_windows_imports() -> None:
    assert TEXT.isascii()
    assert TEXT.startswith('Attribute VB_Name = "lumbercalc"\r\n')
    assert TEXT.endswith("\r\n")
    assert TEXT.count("\r\n") == TEXT.count("\n") == TEXT.count("\r")
    assert "\t" not in TEXT


def test_it_keeps_to_the_limits_of_vba() -> None:
    # Limits of the VBA editor, from memory: 1,023 characters a line, 24 continuations,
    # 60 arguments, 64 KB a procedure.
    assert max(map(len, LINES)) <= 1023
    run = longest = 0
    for line in LINES:
        run = run + 1 if line.endswith(" _") else 0
        longest = max(longest, run)
    assert 10 < longest <= 24
    assert max(len(function.arguments) for function in CATALOGUE.values()) <= 60
    described = TEXT[TEXT.index("Public Sub") :]
    assert len(described[: described.index("End Sub")]) < 64_000


def test_every_line_is_closed() -> None:
    for line in LINES:
        assert line.startswith("'") or LITERAL.sub("", line).count('"') == 0, line
    for opened in ("Function", "Sub", "If", "Select"):
        count = {"If": r"^ *If .* Then$", "Select": r"^ *Select Case"}.get(
            opened, rf"^(Public|Private) {opened} "
        )
        starts = len(re.findall(count, TEXT.replace("\r", ""), re.MULTILINE))
        assert starts == TEXT.count(f"End {opened}\r\n"), opened
    for statement in STATEMENTS:
        code = LITERAL.sub("", statement)
        assert statement.startswith("'") or code.count("(") == code.count(")"), statement


def test_every_name_stands_for_one_thing() -> None:
    names = re.findall(r"^(?:Public|Private) (?:Function|Sub) (\w+)", "\n".join(LINES), re.M)
    assert len({name.lower() for name in names}) == len(names)
    assert set(CATALOGUE) < set(names)
    private = set(
        re.findall(r"^Private (?:Function |Sub |Const )?(\w+)", "\n".join(LINES), re.MULTILINE)
    )
    assert {"server", "REFUSED", "Ask"} <= private
    arguments = {one.name for function in CATALOGUE.values() for one in function.arguments}
    assert not {name.lower() for name in private} & arguments
    for function in CATALOGUE.values():
        assert function.python_name not in {one.name for one in function.arguments}


@EACH
def test_the_function_takes_its_arguments_and_asks_for_its_answer(function: Function) -> None:
    declaration, *statements = body(function.name)
    names = [argument_name(one) for one in function.arguments]
    assert [name.lower() for name in names] == [one.name for one in function.arguments]
    if function.repeats:
        assert f"({names[0]} As Variant, ParamArray {names[1]}() As Variant)" in declaration
        assert f'    {function.name} = Ask("{function.name}", given)' in statements
        assert f"    {function.name} = Err.Description" in statements
        return
    declared = [
        f"{'Optional ' if one.optional else ''}{name} As Variant"
        for one, name in zip(function.arguments, names, strict=True)
    ]
    assert declaration == (f"Public Function {function.name}({', '.join(declared)}) As Variant")
    cells = ", ".join(
        f"{'Used' if one.shape == 'block' else ''}CellsOf({name})"
        for one, name in zip(function.arguments, names, strict=True)
    )
    asked = f'    {function.name} = TrueErrors(Ask("{function.name}", Array({cells})))'
    assert statements[1] == asked
    assert statements[-1] == f"    {function.name} = CVErr(xlErrValue)"


def test_a_word_has_the_same_case_wherever_it_stands() -> None:
    # VBA's editor makes them so; what is left to it would show =board_feet() in the cells.
    code = LITERAL.sub('""', "\n".join(line for line in LINES if not line.startswith("'")))
    cases: dict[str, set[str]] = {}
    for word in re.findall(r"[A-Za-z]\w*", code):
        cases.setdefault(word.lower(), set()).add(word)
    for name in CATALOGUE:
        assert cases[name.lower()] == {name}


@EACH
def test_excel_is_given_the_help(function: Function) -> None:
    start = f'    Describe "{function.name}", '
    described = [line for line in STATEMENTS if line.startswith(start)]
    assert len(described) == 1
    name, group, about, *helps = literals(described[0])
    assert (name, group) == (function.name, function.group)
    assert about == function_help(function)  # whole: what is cut off would be its cautions
    assert len(helps) == len(function.arguments)
    for text, argument in zip(helps, function.arguments, strict=True):
        assert argument_help(argument).startswith(text.removesuffix("..."))
    for text in (about, *helps):
        assert 1 <= len(text) <= 255  # [MS-XLSB] 2.5.3


def test_an_apostrophe_in_the_workbook_s_name_is_doubled_where_excel_is_told_it() -> None:
    # a name in apostrophes, as of a sheet in a formula (ECMA-376 part 1, 18.17.2.3)
    start = STATEMENTS.index('    book = Replace(ThisWorkbook.Name, "\'", "\'\'")')
    assert STATEMENTS[start + 1].startswith(
        """    Application.MacroOptions Macro:="'" & book & "'!" & called, """
    )


RESERVED = """
abs addressof and any array as attribute boolean byref byte byval call case cbool cbyte ccur
cdate cdbl cdec cdecl cint circle clng clnglng clngptr close const csng cstr currency cvar cverr
date debug decimal declare defbool defbyte defcur defdate defdbl defdec defint deflng deflnglng
deflngptr defobj defsng defstr defvar dim do doevents double each else elseif empty end endif
enum eqv erase event exit false fix for friend function get global gosub goto if imp implements
in input inputb int integer is lbound len lenb let like lineinput lock long longlong longptr
loop lset me mod new next not nothing null on open option optional or paramarray preserve print
private pset public put raiseevent redim rem resume return rset scale seek select set sgn shared
single spc static stop string sub tab then to true type typeof ubound unlock until variant wend
while with withevents write xor
"""
"""Identifiers that VBA keeps for itself: [MS-VBAL] 3.3.5.2, from memory."""


def test_no_function_or_argument_has_a_word_of_vba() -> None:
    words = {one.name.lower() for function in CATALOGUE.values() for one in function.arguments}
    words |= {name.lower() for name in CATALOGUE}
    assert {"emc", "rh_pct", "rule"} <= words
    assert words & set(RESERVED.split()) == set()


def test_the_marker_is_the_one_of_the_refusals() -> None:
    assert f'Private Const REFUSED As String = "{MARKER}"' in LINES


STAND_IN = """
Private started As Long
Public from_1904 As Boolean
Private is_down As Boolean

Function XLPy() As Object
    started = started + 1
    If is_down Then Err.Raise 1000, "stand_in", "no such file"
    Set XLPy = ThisComponent
End Function

Function CallUDF(ByVal served, ByVal called, ByVal given) As Variant
    Dim column(0 To 1, 0 To 0) As Variant
    Dim row(0 To 1) As Variant
    Select Case called
    Case "EMC"
        CallUDF = "MARKERtoo damp"
    Case "DEW_POINT"
        column(0, 0) = 1.5
        column(1, 0) = "MARKERtoo damp"
        CallUDF = column
    Case "HEATED_RH"
        row(0) = "MARKERtoo damp"
        row(1) = "MARKER"
        CallUDF = row
    Case "CUBIC_METERS", "SLAB_AREA"
        CallUDF = Shown(given(0))
        If IsArray(given(0)) Then CallUDF = UBound(given(0), 1) & "x" & UBound(given(0), 2)
    Case "READY_DATE"
        CallUDF = "a day"
    Case "BOARD_FEET", "PROBLEM"
        If IsArray(given(0)) Then
            CallUDF = "several names"
        Else
            CallUDF = called & " of " & UBound(given) + 1 & ": " & given(0) & TypeName(given(1))
        End If
    Case Else
        Err.Raise 1000, "stand_in", "the server is gone"
    End Select
End Function

Function Range(ByVal address) As Object
    Set Range = ThisWorkbook.Worksheets(1).Range(address)
End Function

Function Shown(ByVal cell) As Variant
    Shown = cell
    If IsError(cell) Then Shown = "error"
End Function

Function Cell(ByVal number) As Variant
    Dim answer As Variant
    Select Case number
    Case 0
        Cell = Shown(EMC(70, 45))
    Case 1
        answer = DEW_POINT(70, 45)
        Cell = answer(0, 0) & " " & Shown(answer(1, 0))
    Case 2
        answer = HEATED_RH(70, 45, 80)
        Cell = Shown(answer(0)) & " " & Shown(answer(1))
    Case 3
        Cell = BOARD_FEET("8/4", 7.5, 8)
    Case 4
        Cell = PROBLEM("EMC", 70)
    Case 5
        Cell = Shown(LOG_SCALE(16, 16, "Doyle"))
    Case 6
        answer = Shown(EMC(70, 45)) & Shown(EMC(70, 46))
        Cell = answer & started & Shown(LOG_SCALE(16, 16, "Doyle")) & started
    Case 7
        Range("B7").Value = 3
        Cell = SLAB_AREA(Range("A:A"), 8) & " "
        ThisWorkbook.Worksheets.Add
        Cell = Cell & SLAB_AREA(Range("A:C"), 8)
    Case 8
        Range("B7").Value = 3
        Cell = SLAB_AREA(Range("A2:B4"), 8) & " " & CUBIC_METERS(Range("B7"))
    Case 9
        Cell = SLAB_AREA(Range("A1:A2,C3:C4"), 8) & CUBIC_METERS(Range("A1:A2,C3:C4"))
    Case 10
        Cell = Shown(READY_DATE("oak", 1, 80, 46143, 8, 1))
    Case 11
        from_1904 = True
        Cell = Shown(READY_DATE("oak", 1, 80, 46143, 8, 1)) & PROBLEM("ready_date ", 1)
    Case 12
        Cell = CUBIC_METERS(1462) & PROBLEM("EMC", 70)
    Case 13
        Cell = PROBLEM(Range("A1:A2"), 70)
    Case 14
        is_down = True
        answer = started
        Cell = Shown(LOG_SCALE(16, 16, "Doyle")) & Shown(EMC(70, 45)) & Shown(EMC(70, 45))
        Cell = Cell & started - answer & PROBLEM("EMC", 70)
    End Select
End Function
"""
"""A server that answers by the name of the function, and cells that call the functions."""

FROM_1904 = (
    "this workbook counts days from 1904; set it to count from 1900, as the functions do: "
    "File, Options, Advanced"
)


def test_the_functions_with_dates_are_those_that_say_so() -> None:
    names = {
        one.name: f"{one.name} {' '.join(argument.name for argument in one.arguments)}".lower()
        for one in CATALOGUE.values()
    }
    told = {name for name, words in names.items() if "date" in words or "climate" in words}
    assert {"READY_DATE", "MC_STATEMENT"} < told
    assert set(WITH_DATES.split()) == told


@pytest.mark.calc
def test_calcs_basic_runs_it(calc: Calc) -> None:
    # Not Excel, but another reader of the same language, with ranges and sheets of its own.
    module = TEXT.replace("\r\n", "\n").split("\n", 1)[1]
    for excels, stands_in in (
        ("server.CallUDF", "CallUDF"),
        ("ThisWorkbook.Date1904", "from_1904"),  # which Calc's workbooks do not tell
        ("given.Worksheet.Parent", "ThisWorkbook"),  # nor its sheets their workbook
    ):
        assert excels in module
        module = module.replace(excels, stands_in)
    served = {"stand_in": STAND_IN.replace("MARKER", MARKER), "lumbercalc": module}
    modules = {name: f"Option VBASupport 1\n{text}" for name, text in served.items()}
    assert calc.basic(modules, "stand_in.Cell", [[number] for number in range(15)]) == [
        "error",
        "1.5 error",
        "error error",
        "BOARD_FEET of 4: 8/4Double",
        "PROBLEM of 2: EMCInteger",
        "error",
        "errorerror2error3",  # started for the first cell and for each that got no answer
        "7x1 7x3",  # of whole columns the rows that a sheet uses, be it another one
        "3x2 3",
        "errorerror",
        "a day",
        "error" + FROM_1904,
        "1462PROBLEM of 2: EMCInteger",
        "several names",  # which the server refuses in words
        "errorerrorerror1Python does not start: no such file",  # tried once for all the cells
    ]
