"""The shop's own species: one CSV file in its settings folder, read when a host starts."""

from __future__ import annotations

import os
import warnings
from pathlib import Path

from platformdirs import user_config_path

from lumbercalc.wood import species

SETTINGS = "LUMBERCALC_SETTINGS"
"""Environment variable that names another settings folder."""


def own_species_file() -> Path:
    """Give the file of the shop's own species.

    Returns
    -------
    Path
        In the user's settings folder, or in the folder that LUMBERCALC_SETTINGS names.
    """
    folder = os.environ.get(SETTINGS)
    settings = Path(folder) if folder else user_config_path("lumbercalc", appauthor=False)
    return settings / "own_species.csv"


def load_own_species() -> None:
    """Read the shop's own species into the table, once, when the package is imported.

    A file that cannot be read is warned of and left alone: the published species still answer.
    """
    file = own_species_file()
    try:
        if file.is_file():
            species.load_own(file)
    except (ValueError, OSError) as fault:
        warnings.warn(f"the shop's own species in {file} are not used: {fault}", stacklevel=2)
