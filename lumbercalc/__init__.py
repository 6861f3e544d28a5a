"""Functions for drying and selling hardwood, the same in a worksheet and in Python.

Every function of the catalogue is here under its name in lower case, with the same arguments:

>>> import lumbercalc as lc
>>> lc.board_feet("8/4", 7.5, 8)
10.0
"""

from lumbercalc import version as _version
from lumbercalc.sheet.catalogue import CATALOGUE as _CATALOGUE
from lumbercalc.sheet.own_species import load_own_species as _load_own_species
from lumbercalc.sheet.python_face import face as _face

__version__ = _version.VERSION

__all__ = ["__version__", *(function.python_name for function in _CATALOGUE.values())]

globals().update({function.python_name: _face(function) for function in _CATALOGUE.values()})

_load_own_species()
