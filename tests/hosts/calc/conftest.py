"""Every test of a live Calc here runs both ways."""

from __future__ import annotations

import pytest

from tests.hosts.calc.calc_session import Calc


@pytest.fixture(params=["calc_as_installed", "calc_by_worker"])
def calc(request: pytest.FixtureRequest) -> Calc:
    """A running Calc with the add-in: as it installs itself, and told to use the worker."""
    running: Calc = request.getfixturevalue(request.param)
    return running
