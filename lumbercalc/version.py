"""The versions of lumbercalc and of its template, in one place."""

VERSION = "0.1.0"
"""Major, minor, patch."""

TEMPLATE = 4
"""Of the template workbook: raised when an input gets another name, or another place by `moves`."""
