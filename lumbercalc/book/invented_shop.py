"""The invented shop that comes with lumbercalc."""

from __future__ import annotations

from pathlib import Path

import lumbercalc


def sample_folder() -> Path:
    """Give the folder of the invented shop's records.

    Returns
    -------
    Path
        In the installed package, or beside it in a checkout.
    """
    package = Path(lumbercalc.__file__).parent
    installed = package / "samples"
    return installed if installed.is_dir() else package.parent / "samples"
