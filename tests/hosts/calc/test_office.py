"""Finding LibreOffice, and what is said where it is missing or lacks something."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

import lumbercalc
from lumbercalc.hosts.calc import office as office_module
from lumbercalc.hosts.calc.install import check, install
from lumbercalc.hosts.calc.office import (
    CalcError,
    Office,
    default_profile,
    find_office,
    office_environment,
)
from lumbercalc.hosts.step import Step

pytestmark = pytest.mark.skipif(
    os.name != "posix", reason="the stand-in programs are shell scripts"
)


def program(path: Path, says: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"#!/bin/sh\ncat <<'END'\n{says}\nEND\n")
    path.chmod(0o755)
    return path


@pytest.fixture
def stand_in(tmp_path: Path) -> Office:
    """Shell scripts in the places of LibreOffice's programs: version 25.2, nothing installed."""
    folder = tmp_path / "program"
    (folder / "pythonloader.py").parent.mkdir()
    (folder / "pythonloader.py").touch()
    return Office(
        program(folder / "soffice", "LibreOffice 25.2.3.2 520(Build:2)"),
        program(folder / "unopkg", "All deployed user extensions:\n\n<none>"),
        profile=tmp_path / "profile",
        shared=tmp_path / "shared",
    )


def step(office: Office, name: str) -> Step:
    return {step.name: step for step in check(office)}[name]


def test_no_libreoffice_is_said_in_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "/nowhere")
    monkeypatch.setattr(office_module, "USUAL_PLACES", ())
    with pytest.raises(CalcError, match="LibreOffice Calc was not found: install"):
        find_office()
    (only,) = check()
    assert not only.done
    assert "not found" in only.detail


@pytest.mark.parametrize("place", ["path", "usual place"])
def test_libreoffice_is_found(
    stand_in: Office, monkeypatch: pytest.MonkeyPatch, place: str
) -> None:
    on_path = place == "path"
    monkeypatch.setenv("PATH", str(stand_in.program) if on_path else "/nowhere")
    folder = stand_in.program.parent
    places = () if on_path else (f"{folder.parent}/{folder.name[:-1]}*/program",)
    monkeypatch.setattr(office_module, "USUAL_PLACES", places)
    assert find_office() == Office(stand_in.soffice, stand_in.unopkg)


@pytest.mark.parametrize(
    ("says", "done"),
    [
        ("LibreOffice 25.2.0.1 (X86_64)", True),
        ("LibreOffice 26.8.1.1 (X86_64)", True),
        ("LibreOffice 24.8.7.2 (X86_64)", False),
        ("LibreOffice 7.4.7.2 40(Build:2)", False),
        ("nothing", False),
    ],
)
def test_an_older_version_is_warned_about(stand_in: Office, says: str, done: bool) -> None:
    program(stand_in.soffice, says)
    assert step(stand_in, "version").done is done
    assert done or "upgrade" in step(stand_in, "version").detail


def test_a_calc_without_python_refuses_the_add_in_in_words(stand_in: Office) -> None:
    (stand_in.program / "pythonloader.py").unlink()
    assert not step(stand_in, "Python in Calc").done
    with pytest.raises(CalcError, match="python3-uno"):
        install(stand_in)


def test_an_extension_that_does_not_appear_is_an_error(stand_in: Office) -> None:
    with pytest.raises(CalcError, match="did not take the add-in"):
        install(stand_in)


def test_an_open_calc_must_be_restarted(stand_in: Office) -> None:
    assert step(stand_in, "Calc restarted").done
    stand_in.user_profile.mkdir()
    (stand_in.user_profile / ".lock").touch()
    assert not step(stand_in, "Calc restarted").done
    assert "close" in step(stand_in, "Calc restarted").detail


@pytest.mark.parametrize(("version", "done"), [(None, True), ("0.0.1", False)])
def test_an_add_in_of_another_version_counts_as_missing(
    stand_in: Office, version: str | None, done: bool
) -> None:
    version = version or lumbercalc.__version__
    program(
        stand_in.unopkg,
        "All deployed user extensions:\n\nIdentifier: org.lumbercalc.addin\n"
        f"  Version: {version}\n  URL: vnd.sun.star.expand:x.oxt\n  is registered: yes",
    )
    assert step(stand_in, "add-in").done is done


@pytest.mark.skipif(sys.platform != "linux", reason="the XDG folders are Linux's")
def test_the_profile_is_where_libreoffice_looks(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # measured with 25.2: XDG_CONFIG_HOME counts only where that folder is there
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "settings"))
    assert default_profile() == tmp_path / ".config" / "libreoffice" / "4"
    (tmp_path / "settings").mkdir()
    assert default_profile() == tmp_path / "settings" / "libreoffice" / "4"


def test_every_step_is_one_line(stand_in: Office) -> None:
    for line in map(str, check(stand_in)):
        assert "\n" not in line
        assert line.startswith(("done ", "missing "))


@pytest.mark.skipif(sys.platform != "linux", reason="the PATH matters on Linux only")
def test_another_python_first_on_the_path_does_not_reach_calc(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("PATH", "/home/shop/python/bin:/usr/bin")
    monkeypatch.setenv("PYTHONHOME", "/home/shop/python")
    environment = office_environment()
    assert environment["PATH"].split(":")[:2] == ["/usr/bin", "/bin"]
    assert "PYTHONHOME" not in environment
