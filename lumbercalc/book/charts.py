"""Native charts, over dates and of bars: what is drawn is told apart without colour too."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

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
from openpyxl.drawing.text import (
    CharacterProperties,
    Font,
    Paragraph,
    ParagraphProperties,
    RegularTextRun,
)

from lumbercalc.book.styles import BARK, FONT, GRAIN, MOSS, PAPER, RUST, STONE

Dash = Literal["solid", "dash", "lgDash", "sysDash", "sysDot", "sysDashDot"]

Pattern = Literal["wdUpDiag", "wdDnDiag", "dkHorz", "smCheck"]

AIR = "3F6C84"
EMU_PER_POINT = 12700

DAY = "[>366]yyyy\\-mm\\-dd;;"
"""Of an axis: an empty workbook's chart shows no dates of the year 1900."""


@dataclass(frozen=True)
class Look:
    """How a series is drawn.

    Parameters
    ----------
    color : str
        Of line or points.
    points : float
        Width of the line; 0 draws points only.
    dash : Dash
        Such as "dash"; colour does not stand alone.
    symbol : {"none", "circle"}
        Of the points; none is a bare line.
    """

    color: str
    points: float = 2.0
    dash: Dash = "solid"
    symbol: Literal["none", "circle"] = "none"


MEASURED = Look(BARK, 0, symbol="circle")
LIKELY = Look(MOSS, 2.25)
BAND = Look(MOSS, 1.0, "sysDash")
TARGET = Look(RUST, 1.5, "lgDash")
EMC_LINE = Look(AIR, 1.25, "sysDashDot")
AS_OF = Look(STONE, 1.0, "sysDot")


@dataclass(frozen=True)
class Bar:
    """How a part of the bars is filled.

    Parameters
    ----------
    color : str
        Of the fill, or of its lines.
    pattern : Pattern, optional
        Of lines, so that colour does not stand alone; without one the fill is plain.
    """

    color: str
    pattern: Pattern | None = None


BARS = (
    Bar("9DB07F", "wdUpDiag"),
    Bar(AIR, "dkHorz"),
    Bar(MOSS),
    Bar("B8862B", "wdDnDiag"),
    Bar(RUST, "smCheck"),
)
"""Parts of a bar, from the bottom up."""

STACK_LOOKS = (
    Look(MOSS, 2.25),
    Look(RUST, 2.25),
    Look(AIR, 2.25),
    Look("B8862B", 2.25),
    Look("6D4C7D", 2.25, "dash"),
    Look("2B6E6A", 2.25, "dash"),
    Look("8A5A3C", 2.25, "dash"),
    Look(STONE, 2.25, "dash"),
)
"""One for each stack of the chart of all stacks."""


def date_chart(
    width: float, height: float, y_title: str, y_format: str = "0", x_title: str = ""
) -> ScatterChart:
    """Make an empty chart with dates along its foot.

    Parameters
    ----------
    width, height : float
        Of the whole chart [cm].
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
    chart.style, chart.scatterStyle, chart.roundedCorners = None, "lineMarker", False
    chart.visible_cells_only = False  # it stays when Curves is hidden
    chart.width, chart.height = width, height  # type: ignore[assignment]  # it takes both
    chart.x_axis.number_format, chart.y_axis.number_format = DAY, y_format
    for axis in (chart.x_axis, chart.y_axis):
        axis.delete = False
        axis.majorTickMark, axis.minorTickMark = "out", "none"
        axis.txPr = _text(8, STONE)
        axis.graphicalProperties = GraphicalProperties(ln=_line(GRAIN, 0.75))
        axis.numFmt.sourceLinked = False
    chart.x_axis.majorGridlines = None
    faint = GraphicalProperties(ln=_line("E8DFCF", 0.5))
    chart.y_axis.majorGridlines = ChartLines(spPr=faint)
    chart.y_axis.title = _title(y_title)
    if x_title:
        chart.x_axis.title = _title(x_title)
    chart.x_axis.tickLblPos = chart.y_axis.tickLblPos = "low"
    chart.legend = Legend(legendPos="b", overlay=False, txPr=_text(8, STONE))
    chart.graphical_properties = GraphicalProperties(solidFill=PAPER, ln=_line(GRAIN, 0.75))
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
    shown = {
        "showVal": False,
        "showLegendKey": False,
        "showCatName": False,
        "showPercent": False,
        "showBubbleSize": False,
    }
    label = DataLabel(idx=point, dLblPos="t" if above else "r", showSerName=True, **shown)
    label.txPr = _text(9, color, bold=True)
    series.dLbls = DataLabelList(dLbl=[label], showSerName=False, **shown)


def bar_chart(width: float, height: float, y_title: str) -> BarChart:
    """Make an empty chart of upright bars in parts.

    Parameters
    ----------
    width, height : float
        Of the whole chart [cm].
    y_title : str
        What the height shows, with its unit.

    Returns
    -------
    BarChart
        Legend under it.
    """
    chart = BarChart()
    chart.type, chart.grouping, chart.overlap, chart.gapWidth = "col", "stacked", 100, 60
    chart.style, chart.roundedCorners = None, False
    chart.width, chart.height = width, height  # type: ignore[assignment]  # it takes both
    for axis in (chart.x_axis, chart.y_axis):
        axis.delete = False
        axis.majorTickMark, axis.minorTickMark = "none", "none"
        axis.txPr = _text(8, STONE)
        axis.graphicalProperties = GraphicalProperties(ln=_line(GRAIN, 0.75))
    chart.y_axis.number_format = "#,##0"
    chart.y_axis.numFmt.sourceLinked = False
    faint = GraphicalProperties(ln=_line("E8DFCF", 0.5))
    chart.y_axis.majorGridlines = ChartLines(spPr=faint)
    chart.y_axis.title = _title(y_title)
    chart.legend = Legend(legendPos="b", overlay=False, txPr=_text(8, STONE))
    chart.graphical_properties = GraphicalProperties(solidFill=PAPER, ln=_line(GRAIN, 0.75))
    return chart


def draw_bars(chart: BarChart, names: str, values: str, look: Bar, name: str) -> None:
    """Add a part of every bar to a chart.

    Parameters
    ----------
    chart : BarChart
        From `bar_chart`.
    names, values : str
        Areas, such as "'Summary'!$A$5:$A$16".
    look : Bar
        How.
    name : str
        In the legend.
    """
    series = Series(Reference(range_string=values), title=name)
    series.cat = AxDataSource(strRef=StrRef(names))
    filled = GraphicalProperties(ln=_line(BARK, 0.5))
    if look.pattern is None:
        filled.solidFill = look.color
    else:
        filled.pattFill = PatternFillProperties(
            prst=look.pattern, fgClr=_color(look.color), bgClr=_color(PAPER)
        )
    series.graphicalProperties = filled
    chart.series.append(series)


def _color(color: str) -> ColorChoice:
    return ColorChoice(srgbClr=color)  # type: ignore[arg-type]  # it takes the six digits


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
