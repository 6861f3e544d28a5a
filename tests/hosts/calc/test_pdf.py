"""Printing with LibreOffices that stand in; what a true one prints is tested with the quote."""

from __future__ import annotations

import errno
import os
import tempfile
from pathlib import Path

import pytest

import lumbercalc
from lumbercalc.hosts import programs
from lumbercalc.hosts.calc import install, pdf
from lumbercalc.hosts.calc.extension import IDENTIFIER
from lumbercalc.hosts.calc.office import CalcError, Office
from lumbercalc.hosts.calc.way import ASKED, Way

pytestmark = pytest.mark.skipif(
    os.name != "posix", reason="the stand-in programs are shell scripts"
)

PRINTS = """#!/bin/sh
while [ "$1" != --outdir ]; do shift; done
printf %%PDF > "$2/$(basename "$3" .xlsx).pdf"
"""
TAKES_THE_ADD_IN = f"""#!/bin/sh
echo "Identifier: {IDENTIFIER}"
echo "  Version: {lumbercalc.__version__}"
echo "  is registered: yes"
"""
HANGS = """#!/bin/sh
profile="${1#-env:UserInstallation=file://}"
sh -c 'n=0; while [ $n -lt 9999 ] && mkdir -p "$0/$n"; do n=$((n + 1)); done' "$profile" &
wait
"""
"""Starts, as soffice does, another program, which writes into the profile all the time."""


def program(path: Path, script: str) -> Path:
    path.write_text(script)
    path.chmod(0o755)
    return path


def test_printing_tries_both_pythons_once_and_starts_no_worker(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tried: list[str] = []

    def way(office: Office) -> Way:
        tried.append("way")
        return ASKED

    (tmp_path / "pythonloader.py").touch()
    office = Office(
        program(tmp_path / "soffice", PRINTS), program(tmp_path / "unopkg", TAKES_THE_ADD_IN)
    )
    monkeypatch.setattr(pdf, "find_office", lambda: office)
    monkeypatch.setattr(install, "find_way", way)
    monkeypatch.setattr(install, "Link", lambda *_: tried.append("worker"))
    assert pdf.pdf_of(tmp_path / "shop.xlsx") == b"%PDF"
    assert tried == ["way"]


@pytest.fixture
def hanging(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder for temporary files, with a LibreOffice that hangs."""
    folder = tmp_path / "temporary"
    folder.mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(folder))
    monkeypatch.setattr(programs, "PATIENCE", 0.5)
    soffice = program(tmp_path / "soffice", HANGS)
    monkeypatch.setattr(pdf, "find_office", lambda: Office(soffice, tmp_path / "unopkg"))
    monkeypatch.setattr(pdf, "put_in", lambda office: None)
    return folder


def test_a_calc_that_hangs_is_told_and_leaves_no_profile(hanging: Path) -> None:
    with pytest.raises(CalcError, match=r"did not finish in .* close LibreOffice and try again"):
        pdf.pdf_of(Path("shop.xlsx"))
    assert list(hanging.iterdir()) == []


def test_a_profile_that_stays_in_use_does_not_hide_what_is_wrong(
    hanging: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def in_use(*_: object, **__: object) -> None:
        raise OSError(errno.EBUSY, "Device or resource busy")

    monkeypatch.setattr(os, "rmdir", in_use)
    with pytest.raises(CalcError, match=r"did not finish in .* close LibreOffice and try again"):
        pdf.pdf_of(Path("shop.xlsx"))
