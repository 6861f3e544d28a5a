"""The VBA module through which Excel calls the functions: imported once into the shop's workbook.

With it nobody has to trust access to the VBA project, as xlwings' own import of functions needs,
and a refused cell is a true #VALUE! that a SUM shows too; PROBLEM gives the reason in words.
It stands beside xlwings' VBA module, whose XLPy is the server that answers.
"""

from __future__ import annotations

from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Argument, Function
from lumbercalc.sheet.help import argument_help, function_help
from lumbercalc.sheet.refusal import MARKER, shortened

MODULE = "lumbercalc"
"""Name of the VBA module in the workbook."""

SERVED_BY = "lumbercalc.hosts.excel.functions"
"""The Python module with the functions."""

LONGEST_HELP = 255
"""Characters of a description: [MS-XLSB] 2.5.3 ArgDesc, and the same for a function's."""

WITH_DATES = " ".join(one.name for one in CATALOGUE.values() if one.takes_days)
"""The functions to which a serial number may be a day."""

HEAD = f"""\
Attribute VB_Name = "{MODULE}"
Option Explicit
' The worksheet functions of lumbercalc, answered by {SERVED_BY} through xlwings.
' Made from its catalogue; a change here is lost when the module is made again.

Private Const REFUSED As String = "{MARKER}"
Private Const WITH_DATES As String = " {WITH_DATES} "
Private server As Object
Private unanswered As String, since As Single

' XLPy reads all settings anew at each call: its server is kept until it no longer answers.
Private Function Ask(ByVal called As String, ByVal given As Variant) As Variant
    RefuseDaysFrom1904 called
    If server Is Nothing Then Start
    On Error GoTo gone
    Ask = server.CallUDF("{SERVED_BY}", called, given)
    Exit Function
gone:
    Start
    Ask = server.CallUDF("{SERVED_BY}", called, given)
End Function

' A Python that cannot start may take minutes to say so, and a workbook asks thousands of times:
' for half a minute after it every cell is told the same at once.
Private Sub Start()
    If unanswered <> "" And Timer >= since And Timer < since + 30 Then
        Err.Raise 1000, "{MODULE}", unanswered
    End If
    On Error GoTo failed
    Set server = XLPy
    unanswered = ""
    Exit Sub
failed:
    unanswered = "Python does not start: " & Err.Description
    since = Timer
    Set server = Nothing
    Err.Raise 1000, "{MODULE}", unanswered
End Sub

' Value2 keeps every digit of a currency cell, and dates as serial numbers.
' What is left out goes as a blank, which takes the default.
Private Function CellsOf(Optional ByVal given As Variant) As Variant
    If IsMissing(given) Then Exit Function
    If Not IsObject(given) Then
        CellsOf = given
    ElseIf given.Areas.Count > 1 Then
        CellsOf = CVErr(xlErrRef)
    Else
        CellsOf = given.Value2
    End If
End Function

' Of whole columns the rows that some sheet uses: a million blank cells take seconds, and columns
' of two sheets stay equally long. Only where one answer comes of a column: answers for each row
' would be used rows themselves, and one more with each recalculation.
Private Function UsedCellsOf(Optional ByVal given As Variant) As Variant
    If IsObject(given) Then
        If given.Areas.Count = 1 And given.Rows.Count = given.Worksheet.Rows.Count Then
            Set given = given.Resize(LowestRow(given.Worksheet.Parent))
        End If
    End If
    UsedCellsOf = CellsOf(given)
End Function

Private Function LowestRow(ByVal book As Object) As Long
    Dim sheet As Object, last As Long, lowest As Long
    For Each sheet In book.Worksheets
        last = sheet.UsedRange.Row + sheet.UsedRange.Rows.Count - 1
        If last > lowest Then lowest = last
    Next sheet
    LowestRow = lowest
End Function

' Value2 of a day in a workbook that counts from 1904 is 1,462 less than what is meant.
Private Sub RefuseDaysFrom1904(ByVal called As Variant)
    If VarType(called) <> vbString Then Exit Sub
    If InStr(WITH_DATES, " " & UCase$(Trim$(called)) & " ") = 0 Then Exit Sub
    If Not ThisWorkbook.Date1904 Then Exit Sub
    Err.Raise 1904, "{MODULE}", "this workbook counts days from 1904; set it to count " & _
        "from 1900, as the functions do: File, Options, Advanced"
End Sub

' A refusal comes as a text; a cell shows it as an error, row by row.
Private Function TrueErrors(ByVal answer As Variant) As Variant
    Dim i As Long, j As Long
    Select Case Dimensions(answer)
    Case 0
        If IsRefusal(answer) Then answer = CVErr(xlErrValue)
    Case 1
        For i = LBound(answer) To UBound(answer)
            If IsRefusal(answer(i)) Then answer(i) = CVErr(xlErrValue)
        Next i
    Case Else
        For i = LBound(answer, 1) To UBound(answer, 1)
            For j = LBound(answer, 2) To UBound(answer, 2)
                If IsRefusal(answer(i, j)) Then answer(i, j) = CVErr(xlErrValue)
            Next j
        Next i
    End Select
    TrueErrors = answer
End Function

Private Function IsRefusal(ByVal cell As Variant) As Boolean
    If VarType(cell) = vbString Then IsRefusal = (Left$(cell, Len(REFUSED)) = REFUSED)
End Function

Private Function Dimensions(ByVal answer As Variant) As Long
    Dim last As Long
    If Not IsArray(answer) Then Exit Function
    Dimensions = 1
    On Error GoTo one
    last = UBound(answer, 2)
    Dimensions = 2
one:
End Function

Private Sub Describe(ByVal called As String, ByVal group As String, _
        ByVal about As String, Optional ByVal helps As Variant)
    Dim book As String
    book = Replace(ThisWorkbook.Name, "'", "''")
    Application.MacroOptions Macro:="'" & book & "'!" & called, _
        Description:=about, Category:=group, ArgumentDescriptions:=helps
End Sub
"""
"""What all functions share."""


def wrappers_text() -> str:
    """Write the VBA module.

    Returns
    -------
    str
        The text of a .bas file, with the line ends of Windows; all of it is ASCII.
    """
    functions = (_repeating(one) if one.repeats else _wrapper(one) for one in CATALOGUE.values())
    lines = [*HEAD.splitlines(), "", *_descriptions()]
    for function in functions:
        lines += ["", *function]
    return "".join(f"{line}\r\n" for line in lines)


def argument_name(argument: Argument) -> str:
    """Name an argument in VBA, whose editor gives a word the same case wherever it stands.

    Parameters
    ----------
    argument : Argument
        An argument of a function of the catalogue.

    Returns
    -------
    str
        Its name, as the function's where it shares it: that one keeps its capitals then.

    Examples
    --------
    >>> from lumbercalc.sheet.vocabulary import BOARD_FEET, WIDTH
    >>> argument_name(WIDTH), argument_name(BOARD_FEET)
    ('width_in', 'BOARD_FEET')
    """
    shared = argument.name.upper() in CATALOGUE
    return argument.name.upper() if shared else argument.name


def _wrapper(function: Function) -> list[str]:
    names = [argument_name(argument) for argument in function.arguments]
    declared = [
        f"{'Optional ' if argument.optional else ''}{name} As Variant"
        for name, argument in zip(names, function.arguments, strict=True)
    ]
    cells = [
        f"{'UsedCellsOf' if argument.shape == 'block' else 'CellsOf'}({name})"
        for name, argument in zip(names, function.arguments, strict=True)
    ]
    ask = f'    {function.name} = TrueErrors(Ask("{function.name}", Array('
    return [
        *_listed(f"Public Function {function.name}(", declared, ") As Variant"),
        "    On Error GoTo failed",
        *_listed(ask, cells, ")))"),
        "    Exit Function",
        "failed:",
        f"    {function.name} = CVErr(xlErrValue)",
        "End Function",
    ]


def _repeating(function: Function) -> list[str]:
    """Write the function that explains: it takes any number of cells, and answers in words."""
    first, others = (argument.name for argument in function.arguments)
    return [
        f"Public Function {function.name}({first} As Variant, "
        f"ParamArray {others}() As Variant) As Variant",
        "    Dim given() As Variant, i As Long",
        "    On Error GoTo failed",
        f"    ReDim given(0 To UBound({others}) + 1)",
        f"    given(0) = CellsOf({first})",
        "    RefuseDaysFrom1904 given(0)",
        f"    For i = 0 To UBound({others})",
        f"        given(i + 1) = UsedCellsOf({others}(i))",
        "    Next i",
        f'    {function.name} = Ask("{function.name}", given)',
        "    Exit Function",
        "failed:",
        f"    {function.name} = Err.Description",
        "End Function",
    ]


def _descriptions() -> list[str]:
    """Write the macro that gives Excel's function wizard its help: run once, then save."""
    lines = ["Public Sub DescribeLumbercalc()"]
    for function in CATALOGUE.values():
        about = (function.name, function.group, shortened(function_help(function), LONGEST_HELP))
        described = f"    Describe {', '.join(map(_literal, about))}"
        helps = [
            _literal(shortened(argument_help(argument), LONGEST_HELP))
            for argument in function.arguments
        ]
        lines += _listed(f"{described}, Array(", helps, ")") if helps else [described]
    return [*lines, "End Sub"]


def _listed(start: str, parts: list[str], end: str) -> list[str]:
    """Write a list with a line for each part: a physical line of VBA holds 1,023 characters."""
    if not parts:
        return [start + end]
    broken = [f"        {part}, _" for part in parts[:-1]]
    return [f"{start} _", *broken, f"        {parts[-1]}{end}"]


def _literal(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'
