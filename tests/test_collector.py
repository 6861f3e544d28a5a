"""Python's look for garbage rests while a command works, and goes on after it."""

import gc

import pytest
from typer.testing import CliRunner

from lumbercalc.cli import app
from lumbercalc.collector import without_collector


def test_it_goes_on_after_a_fault() -> None:
    with pytest.raises(ZeroDivisionError), without_collector():
        1 // int(gc.isenabled())
    assert gc.isenabled()


def test_it_rests_while_a_command_works(monkeypatch: pytest.MonkeyPatch) -> None:
    on = []
    monkeypatch.setattr("lumbercalc.cli.tables.out.print", lambda *_: on.append(gc.isenabled()))
    assert CliRunner().invoke(app, ["functions"]).exit_code == 0
    assert set(on) == {False}
    assert gc.isenabled()
