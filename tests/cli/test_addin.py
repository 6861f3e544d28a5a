"""The add-in as a file: built for either way, and no file replaced unasked."""

from __future__ import annotations

import zipfile
from pathlib import Path

import pytest

from lumbercalc.hosts.calc import extension, install
from lumbercalc.hosts.calc.way import ASKED
from tests.cli.commands import assert_one_line, run


def test_addin_is_built_to_a_file(tmp_path: Path) -> None:
    file = tmp_path / "lumbercalc.oxt"
    result = run("addin", "calc", "--build-only", file)
    assert (result.exit_code, result.stdout) == (0, f"wrote {file}\n")
    assert file.read_bytes() == install.build()
    with zipfile.ZipFile(file) as archive:
        assert archive.testzip() is None


def test_addin_is_built_for_the_worker_where_it_is_asked_for(tmp_path: Path) -> None:
    file = tmp_path / "lumbercalc.oxt"
    file.write_bytes(b"mine")
    assert_one_line(run("addin", "calc", "--worker", "--build-only", file), "a file already")
    assert file.read_bytes() == b"mine"
    assert run("addin", "calc", "--worker", "--build-only", file, "--force").exit_code == 0
    assert len(list(file.parent.glob("*.backup-*.oxt"))) == 1
    assert file.read_bytes() == extension.build(ASKED)


def test_addin_that_cannot_be_written(tmp_path: Path) -> None:
    assert_one_line(run("addin", "calc", "--build-only", tmp_path / "none" / "x.oxt"), "x.oxt")


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (("calc", "--remove", "--check"), "give --remove or --check, not several of them"),
        (("calc", "--remove", "--build-only", "x.oxt"), "give --remove or --build-only"),
        (("excel", "--remove", "--check", "--wrappers", "x.bas"), "--check or --wrappers"),
    ],
)
def test_addin_does_one_thing_at_a_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, options: tuple[str, ...], words: str
) -> None:
    monkeypatch.chdir(tmp_path)
    assert_one_line(run("addin", *options), words)
    assert list(tmp_path.iterdir()) == []
