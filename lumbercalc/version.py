"""The version of lumbercalc, in one place for the package, the functions and the workbook."""

VERSION = "0.1.0"
"""Major, minor, patch."""
