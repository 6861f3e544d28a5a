"""lumbercalc in xlwings Lite: every function of the catalogue, under its own name."""

from lumbercalc.hosts.excel.functions import worksheet_function
from lumbercalc.sheet.catalogue import CATALOGUE


def _here(function):
    """Make a function as if it were written out in this file."""
    made = worksheet_function(function)
    made.__module__ = __name__
    return made


globals().update({name: _here(function) for name, function in CATALOGUE.items()})
