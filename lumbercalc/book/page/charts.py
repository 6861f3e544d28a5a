"""Native charts: lines and points over dates, and columns that stand on each other."""

from __future__ import annotations

from typing import Any

from openpyxl.chart import BarChart, ScatterChart, Series
from openpyxl.chart.axis import ChartLines
from openpyxl.chart.data_source import AxDataSource, StrRef
from openpyxl.chart.label import DataLabel, DataLabelList
from openpyxl.chart.legend import Legend
from openpyxl.chart.marker import Marker
from openpyxl.chart.reference import Reference
from openpyxl.chart.series import SeriesLabel, XYSeries
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText, Text
from openpyxl.chart.title import Title
from openpyxl.drawing.colors import ColorChoice
from openpyxl.drawing.fill import PatternFillProperties
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, TwoCellAnchor
from openpyxl.drawing.text import (
    CharacterProperties,
    Font,
    Paragraph,
    ParagraphProperties,
    RegularTextRun,
)
from openpyxl.worksheet.cell_range import CellRange
from openpyxl.worksheet.worksheet import Worksheet

from lumbercalc.book.page.chart_looks import CENTS, DAY, Bar, Dash, Look
from lumbercalc.book.page.styles import FONT, GRAIN, PAPER, STONE

EMU_PER_POINT = 12700


def date_chart(y_title: str, y_format: str = "0", x_title: str = "") -> ScatterChart:
    """Make an empty chart with dates along its foot.

    Parameters
    ----------
    y_title : str
        What the height shows, with its unit.
    y_format : str
        Of the numbers beside it.
    x_title : str
        What the dates are, where that needs to be said.

    Returns
    -------
    ScatterChart
        Straight lines, legend under it.
    """
    chart = ScatterChart()
    chart.scatterStyle = "lineMarker"
    _dress(chart, y_title, (DAY, y_format))
    if x_title:
        chart.x_axis.title = _title(x_title)
    return chart


def draw(chart: ScatterChart, days: str, values: str, look: Look, name: str) -> XYSeries:
    """Add a series to a chart.

    Parameters
    ----------
    chart : ScatterChart
        From `date_chart`.
    days, values : str
        Areas, such as "'Curves'!$C$5:$C$64".
    look : Look
        How.
    name : str
        In the legend: a text, or the address of a cell, which begins with an apostrophe.

    Returns
    -------
    XYSeries
        As it stands in the chart.
    """
    series: XYSeries = Series(Reference(range_string=values), Reference(range_string=days))
    series.tx = SeriesLabel(strRef=StrRef(name)) if name[0] == "'" else SeriesLabel(v=name)
    series.smooth = False
    series.marker = Marker(
        symbol=look.symbol,
        size=5,
        spPr=GraphicalProperties(solidFill=look.color, ln=_line(PAPER, 0.5)),
    )
    series.graphicalProperties = GraphicalProperties(
        ln=_line(look.color, look.points, look.dash) if look.points else LineProperties(noFill=True)
    )
    chart.series.append(series)
    return series


def name_at_point(series: XYSeries, color: str, point: int = 0, *, above: bool = False) -> None:
    """Write a series' name beside one of its points, in place of a legend.

    Parameters
    ----------
    series : XYSeries
        From `draw`.
    color : str
        Of the letters.
    point : int
        Which of them, from 0: lines that run together are named at different ones.
    above : bool
        Above the point, where the line itself would run through the name.
    """
    label = DataLabel(idx=point, dLblPos="t" if above else "r", **_shown("showSerName"))
    label.txPr = _text(9, color, bold=True)
    series.dLbls = DataLabelList(dLbl=[label], **_shown())


def column_chart(y_title: str, y_format: str) -> BarChart:
    """Make an empty chart of columns that stand on each other.

    Parameters
    ----------
    y_title : str
        What the height shows, with its unit.
    y_format : str
        Of the numbers beside it.

    Returns
    -------
    BarChart
        With a legend under it.
    """
    chart = BarChart()
    chart.type, chart.grouping, chart.overlap, chart.gapWidth = "col", "stacked", 100, 40
    _dress(chart, y_title, ("General", y_format))
    return chart


def stand(
    chart: BarChart,
    names: str,
    values: str,
    name: str,
    look: Bar | None = None,
    *,
    labelled: bool = False,
) -> None:
    """Add a series of columns on top of those that are there.

    Parameters
    ----------
    chart : BarChart
        From `column_chart`.
    names, values : str
        Areas, such as "'Cost card'!$A$15:$A$31".
    name : str
        In the legend.
    look : Bar, optional
        Of the columns; None leaves them out of sight, to hold up others.
    labelled : bool
        With the value of each column in it, in white.
    """
    series: Any = Series(Reference(range_string=values), title=name)
    series.cat = AxDataSource(strRef=StrRef(names))
    series.invertIfNegative = False
    series.graphicalProperties = _fill(look)
    if labelled:
        white = _text(8, PAPER, bold=True)
        series.dLbls = DataLabelList(dLblPos="inEnd", numFmt=CENTS, **_shown("showVal"))
        series.dLbls.txPr = white
    chart.series.append(series)


def _shown(*parts: str) -> dict[str, bool]:
    """Say of each part of a label whether it shows: what is not told, spreadsheets show."""
    every = (
        "showLegendKey",
        "showVal",
        "showCatName",
        "showSerName",
        "showPercent",
        "showBubbleSize",
    )
    return {part: part in parts for part in every}


def _fill(look: Bar | None) -> GraphicalProperties:
    if look is None:
        return GraphicalProperties(noFill=True, ln=LineProperties(noFill=True))
    if look.pattern is None:
        return GraphicalProperties(solidFill=look.color, ln=_line(look.color, 0.75))
    ink, ground = (
        ColorChoice(srgbClr=shade)  # type: ignore[arg-type]  # it takes the text
        for shade in (look.color, PAPER)
    )
    lines = PatternFillProperties(prst=look.pattern, fgClr=ink, bgClr=ground)
    return GraphicalProperties(pattFill=lines, ln=_line(look.color, 0.75))


def cover(sheet: Worksheet, chart: ScatterChart | BarChart, area: str) -> None:
    """Put a chart over cells, so that it ends with them, however wide a spreadsheet makes them.

    Parameters
    ----------
    sheet : Worksheet
        Where it stands.
    chart : ScatterChart or BarChart
        Complete.
    area : str
        Such as "A20:C34": the printed columns.
    """
    cells = CellRange(area)
    chart.anchor = TwoCellAnchor(  # type: ignore[assignment]  # it takes an anchor too
        editAs="twoCell",
        _from=AnchorMarker(col=cells.min_col - 1, row=cells.min_row - 1),
        to=AnchorMarker(col=cells.max_col, row=cells.max_row),
    )
    sheet.add_chart(chart)


def _dress(chart: ScatterChart | BarChart, y_title: str, formats: tuple[str, str]) -> None:
    """Give a chart its axes, faint lines across and a legend under it."""
    chart.style, chart.roundedCorners = None, False
    chart.visible_cells_only = False  # it stays when the cells that it draws are hidden
    for axis, number_format in zip((chart.x_axis, chart.y_axis), formats, strict=True):
        axis.number_format, axis.delete = number_format, False
        axis.majorTickMark, axis.minorTickMark = "out", "none"
        axis.txPr = _text(8, STONE)
        axis.graphicalProperties = GraphicalProperties(ln=_line(GRAIN, 0.75))
        axis.numFmt.sourceLinked = False
    chart.x_axis.majorGridlines = None
    faint = GraphicalProperties(ln=_line("E8DFCF", 0.5))
    chart.y_axis.majorGridlines = ChartLines(spPr=faint)
    chart.y_axis.title = _title(y_title)
    chart.x_axis.tickLblPos = chart.y_axis.tickLblPos = "low"
    chart.legend = Legend(legendPos="b", overlay=False, txPr=_text(8, STONE))
    chart.graphical_properties = GraphicalProperties(solidFill=PAPER, ln=_line(GRAIN, 0.75))


def _line(color: str, points: float, dash: Dash = "solid") -> LineProperties:
    return LineProperties(solidFill=color, w=int(points * EMU_PER_POINT), prstDash=dash)


def _letters(size: float, color: str, *, bold: bool = False) -> CharacterProperties:
    return CharacterProperties(
        sz=int(size * 100), b=bold, solidFill=color, latin=Font(typeface=FONT)
    )


def _text(size: float, color: str, *, bold: bool = False) -> RichText:
    letters = ParagraphProperties(defRPr=_letters(size, color, bold=bold))
    return RichText(p=[Paragraph(pPr=letters, r=[], endParaRPr=_letters(size, color, bold=bold))])


def _title(text: str) -> Title:
    letters = _letters(9, STONE)
    paragraph = Paragraph(
        pPr=ParagraphProperties(defRPr=letters), r=[RegularTextRun(rPr=letters, t=text)]
    )
    return Title(tx=Text(rich=RichText(p=[paragraph])), overlay=False)
