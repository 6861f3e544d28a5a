"""Functions for drying and selling hardwood, the same in a worksheet and in Python.

Every function of the catalogue is here under its name in lower case, with the same arguments:

>>> import lumbercalc as lc
>>> lc.board_feet("8/4", 7.5, 8)
10.0

A column in is a column out: a Series for a Series, with its index, else an array. A blank (None,
NaN, an empty text) gives None, in a column NaN or no date. What cannot be answered is a ValueError:

>>> lc.board_feet("8/4", [7.5, -2], 8)
Traceback (most recent call last):
    ...
ValueError: board_feet in row 2: width_in is -2 in; it must be from 0.25 to 120 in
"""

from lumbercalc import version as _version
from lumbercalc.sheet.catalogue import CATALOGUE as _CATALOGUE
from lumbercalc.sheet.own_species import load_own_species as _load_own_species
from lumbercalc.sheet.python_face import face as _face

__version__ = _version.VERSION

__all__ = ["__version__", *(function.python_name for function in _CATALOGUE.values())]

globals().update({function.python_name: _face(function) for function in _CATALOGUE.values()})

_load_own_species()
