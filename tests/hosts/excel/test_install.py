"""Installing for Excel: the true logic and xlwings' own command on folders that stand in."""

from __future__ import annotations

import errno
import json
import locale
import os
import re
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import datetime
from functools import cache
from importlib.util import find_spec
from pathlib import Path

import pytest
import xlwings
import xlwings.cli
import xlwings.utils
from typer.testing import CliRunner

from lumbercalc.cli import app
from lumbercalc.faults import FileFault
from lumbercalc.hosts.excel.install import INTERPRETER, MODULES, check, install, remove
from lumbercalc.hosts.excel.machine import EXCEL_KEY, ExcelError, Machine, this_machine
from lumbercalc.hosts.excel.settings import change_settings, read_settings
from lumbercalc.hosts.excel.wrappers import SERVED_BY, wrappers_text
from lumbercalc.hosts.programs import Said

NOW = datetime(2026, 3, 1, 10, 30)
THEIRS = (
    '"INTERPRETER_WIN","C:\\Tools\\python.exe"\n"UDF MODULES","ours;more"\n"SHOW CONSOLE","True"\n'
)


def package(name: str) -> Path | None:
    found = find_spec("xlwings")
    assert found is not None
    assert found.submodule_search_locations is not None
    folder = Path(found.submodule_search_locations[0])
    return {"xlwings": folder, "win32com": folder}.get(name)  # pywin32 is for Windows alone


@pytest.fixture
def machine(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Machine:
    """A Windows machine of folders, with Excel and nothing installed in it."""
    python = tmp_path / "env" / "Scripts" / "python.exe"
    python.parent.mkdir(parents=True)
    python.touch()
    for bits in (32, 64):
        (tmp_path / "env" / f"xlwings{bits}-{xlwings.__version__}.dll").touch()
    made = Machine(
        windows=True,
        home=tmp_path / "home",
        appdata=tmp_path / "appdata",
        python=python,
        excel=lambda: r"C:\Program Files\Microsoft Office\root\Office16\EXCEL.EXE",
        package=package,
        run=lambda command: run(made, command),
    )
    # what xlwings' command asks Excel for, and where it looks for the user's settings
    monkeypatch.setattr(xlwings.cli, "get_addin_dir", lambda glob: str(made.addin.parent))
    monkeypatch.setattr(xlwings, "apps", [])
    monkeypatch.setattr(xlwings, "USER_CONFIG_FILE", str(made.settings))
    made.addin.parent.mkdir(parents=True)
    return made


def run(machine: Machine, command: Sequence[str]) -> Said:
    """Run xlwings' own command in this process, anything else with this Python."""
    assert command[0] == str(machine.python)
    if command[1:3] == ["-m", "xlwings.cli"]:
        before, sys.argv = sys.argv, ["xlwings", *command[3:]]
        try:
            xlwings.cli.main()
        finally:
            sys.argv = before
        return subprocess.CompletedProcess(command, 0, "", "")
    return said(*command[1:])


@cache
def said(*arguments: str) -> Said:
    """What this Python answers: it says the same to every test, a second each."""
    return subprocess.run([sys.executable, *arguments], capture_output=True, text=True, check=False)


def files(machine: Machine) -> dict[str, bytes]:
    """What lies in the folders of the user, by name; backups apart."""
    return {
        str(path.relative_to(root)): path.read_bytes()
        for root in (machine.home, machine.appdata)
        for path in root.rglob("*")
        if path.is_file() and ".backup-" not in path.name
    }


def write_settings(machine: Machine, text: str = THEIRS) -> None:
    machine.settings.parent.mkdir(parents=True)
    machine.settings.write_text(text)


def test_installing_puts_everything_there(machine: Machine) -> None:
    before = {step.name: step.done for step in check(machine)}
    assert before == {
        **{name: True for name in ("Windows", "Excel", "xlwings", "pywin32", "xlwings' library")},
        **{name: False for name in ("xlwings' add-in", "xlwings' settings", "VBA module")},
        "calculation": True,
    }
    steps = install(machine, NOW)
    assert [str(step) for step in steps if not step.done] == []
    assert [step.name for step in steps] == list(before)
    assert machine.vba_module.read_bytes() == wrappers_text().encode("ascii")
    folder = package("xlwings")
    assert folder is not None
    assert machine.addin.read_bytes() == (folder / "addin" / "xlwings.xlam").read_bytes()


def test_xlwings_reads_the_settings_that_were_written(machine: Machine) -> None:
    install(machine, NOW)
    settings = xlwings.utils.read_user_config()
    assert settings["interpreter_win"] == str(machine.python)
    assert settings["udf modules"] == SERVED_BY


def test_a_person_s_settings_stay_and_are_kept_with_a_date(machine: Machine) -> None:
    write_settings(machine)
    install(machine, NOW)
    settings = read_settings(machine.settings)
    assert settings["SHOW CONSOLE"] == "True"
    assert settings[MODULES] == f"ours;more;{SERVED_BY}"
    assert settings[INTERPRETER] == str(machine.python)
    [backup] = machine.settings.parent.glob("*.backup-*")
    assert backup.name.startswith("xlwings.backup-2026-03-01-103000")
    assert backup.read_text() == THEIRS


def test_installing_twice_changes_nothing_more(machine: Machine) -> None:
    write_settings(machine)
    install(machine, NOW)
    once = files(machine)
    install(machine, NOW)
    assert files(machine) == once
    assert len(list(machine.settings.parent.glob("*.backup-*"))) == 1


@pytest.mark.parametrize("theirs", [None, THEIRS, '"SHOW CONSOLE","True"\n'])
@pytest.mark.parametrize("had_addin", [False, True])
@pytest.mark.parametrize("times", [1, 2])
def test_removing_leaves_what_was_there_before(
    machine: Machine, theirs: str | None, had_addin: bool, times: int
) -> None:
    if theirs is not None:
        write_settings(machine, theirs)
    if had_addin:
        run(machine, [str(machine.python), "-m", "xlwings.cli", "addin", "install"])
        if theirs is None:
            machine.settings.unlink()  # which xlwings' command makes too
    before, settings = files(machine), read_settings(machine.settings)
    for _ in range(times):
        install(machine, NOW)
    assert files(machine) != before
    assert [str(step) for step in remove(machine, NOW) if not step.done] == []
    assert read_settings(machine.settings) == settings
    assert files(machine).keys() == before.keys()
    assert machine.addin.exists() == had_addin


def test_removing_leaves_what_a_person_changed_since(machine: Machine) -> None:
    write_settings(machine)
    install(machine, NOW)
    since: dict[str, str | None] = {INTERPRETER: r"D:\other\python.exe", "DEBUG UDFS": "False"}
    change_settings(machine.settings, since, NOW.replace(minute=31))
    remove(machine, NOW.replace(minute=32))
    settings = read_settings(machine.settings)
    assert settings[INTERPRETER] == r"D:\other\python.exe"
    assert settings["DEBUG UDFS"] == "False"
    assert settings[MODULES] == "ours;more"


def test_the_note_of_the_earlier_python_is_kept_when_a_later_one_is_noted(machine: Machine) -> None:
    write_settings(machine)
    install(machine, NOW)
    first = machine.record.read_bytes()
    change_settings(machine.settings, {INTERPRETER: r"D:\other\python.exe"}, NOW)
    install(machine, NOW.replace(minute=31))
    assert b"other" in machine.record.read_bytes()
    [backup] = machine.record.parent.glob("lumbercalc.backup-*.json")
    assert backup.read_bytes() == first
    assert b"Tools" in first


def test_a_note_that_cannot_be_written_leaves_the_one_before(
    machine: Machine, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_settings(machine)
    install(machine, NOW)
    change_settings(machine.settings, {INTERPRETER: r"D:\other\python.exe"}, NOW)
    before = files(machine)

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(FileFault, match=r"lumbercalc\.json: .* the disk is full"):
        install(machine, NOW)
    assert files(machine) == before


GOOD_NOTE = {"interpreter": None, "written": "p", "modules": True, "addin": False}


@pytest.mark.parametrize(
    ("note", "words"),
    [
        (json.dumps(GOOD_NOTE)[:40], "Unterminated string|Expecting"),
        ("", "Expecting value"),
        ("\xff", "codec can't decode"),
        ("[]", "must be a mapping"),
        ('{"interpreter": null}', "missing 3 required"),
        (json.dumps({**GOOD_NOTE, "more": 1}), "unexpected keyword argument 'more'"),
        (json.dumps({**GOOD_NOTE, "interpreter": 7}), "interpreter is 7"),
        (json.dumps({**GOOD_NOTE, "addin": "no"}), "addin is 'no'"),
    ],
)
@pytest.mark.parametrize("undo", [install, remove])
def test_a_note_that_is_not_whole_is_told_and_nothing_is_touched(
    machine: Machine, undo: Callable[[Machine, datetime], object], note: str, words: str
) -> None:
    write_settings(machine)
    install(machine, NOW)
    machine.record.write_text(note, "latin-1")
    before = files(machine)
    told = (
        rf"lumbercalc\.json: .*({words}).*: put the newest of its backups .*xlwings\.conf yourself"
    )
    with pytest.raises(ExcelError, match=told):
        undo(machine, NOW)
    assert files(machine) == before


def test_removing_what_was_never_installed_touches_nothing(machine: Machine) -> None:
    write_settings(machine)
    before = files(machine)
    [step] = remove(machine, NOW)
    assert step.done
    assert "not installed by lumbercalc" in step.detail
    assert files(machine) == before


@pytest.mark.parametrize(
    ("lacks", "words"),
    [
        ({"windows": False}, "Windows: xlwings serves functions to Excel on Windows only"),
        ({"excel": lambda: ""}, "Excel: not found: install Excel"),
        ({"package": lambda name: None}, "xlwings: not found: pip install xlwings"),
        (
            {"package": lambda name: None if name == "win32com" else package(name)},
            "pywin32: not found: pip install pywin32",
        ),
    ],
    ids=["windows", "excel", "xlwings", "pywin32"],
)
def test_what_is_missing_is_said_and_nothing_is_touched(
    machine: Machine, lacks: dict[str, object], words: str
) -> None:
    poor = replace(machine, **lacks)  # type: ignore[arg-type]
    with pytest.raises(ExcelError, match=words):
        install(poor, NOW)
    assert files(machine) == {}
    wanting = [f"{step.name}: {step.detail}" for step in check(poor) if not step.done]
    assert wanting[0].startswith(words)


def test_xlwings_library_is_looked_for_where_its_vba_looks(machine: Machine) -> None:
    libraries = sorted(machine.home.parent.glob("env/*.dll"))
    assert len(libraries) == 2
    for library in libraries:
        library.rename(machine.python.with_name(library.name))
    assert all(step.done for step in install(machine, NOW))
    machine.python.with_name(libraries[0].name).unlink()
    with pytest.raises(ExcelError, match=r"xlwings' library: xlwings32-.* not found beside .*venv"):
        install(machine, NOW)


def test_the_library_of_another_version_of_xlwings_is_none(machine: Machine) -> None:
    for library in machine.home.parent.glob("env/*.dll"):
        library.rename(library.with_name(f"{library.name.partition('-')[0]}-0.30.1.dll"))
    [found] = [step for step in check(machine) if step.name == "xlwings' library"]
    assert not found.done
    assert f"-{xlwings.__version__}.dll not found" in found.detail


def failing(command: Sequence[str]) -> Said:
    return subprocess.CompletedProcess(command, 0, "Error: Failed: If Excel is running, quit\n", "")


def test_xlwings_failing_is_told_in_its_words(machine: Machine) -> None:
    write_settings(machine)
    with pytest.raises(ExcelError, match="did not install its add-in: Error: Failed: If Excel"):
        install(replace(machine, run=failing), NOW)
    assert machine.settings.read_text() == THEIRS
    assert not machine.vba_module.exists()
    install(machine, NOW)
    stuck = remove(replace(machine, run=failing), NOW)
    assert [step.name for step in stuck if not step.done] == ["xlwings' add-in removed"]
    assert all(step.done for step in remove(machine, NOW))  # it can be tried again
    assert machine.settings.read_text() != ""


SPOILED: dict[str, tuple[Callable[[Machine], object], str]] = {
    "xlwings' add-in": (lambda m: m.addin.write_bytes(b"older"), "another version of xlwings"),
    "xlwings' settings": (
        lambda m: change_settings(m.settings, {INTERPRETER: r"C:\py\python.exe"}, NOW),
        r"they name C:\\py\\python.exe",
    ),
    "VBA module": (lambda m: m.vba_module.write_bytes(b"older"), "another version: run"),
}


@pytest.mark.parametrize("name", SPOILED)
def test_check_finds_what_was_spoiled(machine: Machine, name: str) -> None:
    spoil, words = SPOILED[name]
    install(machine, NOW)
    spoil(machine)
    [found] = [step for step in check(machine) if not step.done]
    assert found.name == name
    assert re.search(words, found.detail)
    install(machine, NOW.replace(minute=40))
    assert all(step.done for step in check(machine))


def test_check_finds_a_python_that_does_not_answer(machine: Machine) -> None:
    install(machine, NOW)
    broken = replace(
        machine,
        run=lambda command: subprocess.CompletedProcess(
            command, 1, "", "Traceback:\nModuleNotFoundError: No module named 'lumbercalc'\n"
        ),
    )
    [found] = [step for step in check(broken) if not step.done]
    assert str(found) == "missing  calculation: ModuleNotFoundError: No module named 'lumbercalc'"


def test_other_lines_of_the_settings_stay_as_they_are(tmp_path: Path) -> None:
    path = tmp_path / "xlwings.conf"
    path.write_bytes(b'a remark\n"ONEDRIVE_WIN","C:\\Users\\J\xf6rg"\n"udf modules","old"\n')
    change_settings(path, {MODULES: "new", "GONE": None}, NOW)
    assert path.read_bytes() == (
        b'"UDF MODULES","new"\na remark\n"ONEDRIVE_WIN","C:\\Users\\J\xf6rg"\n'
    )
    assert change_settings(path, {MODULES: "new"}, NOW) is None


def as_vba_reads(path: Path, name: str) -> str | None:
    """Find a setting as xlwings' GetConfigFromFile does: by Input #, two fields at a time.

    "Delimiting comma or blank line: Empty" (Office VBA reference, Input # statement).
    """
    fields = [
        field.strip().strip('"')
        for line in path.read_text().splitlines()
        for field in line.split(",")
    ]
    pairs = zip(fields[::2], fields[1::2], strict=False)
    return next((value for key, value in pairs if key.lower() == name.lower()), None)


@pytest.mark.parametrize("above", ["", "\n", "a remark\n", '"SHOW CONSOLE","True"\n\n'])
def test_xlwings_vba_finds_the_settings_below_any_line(machine: Machine, above: str) -> None:
    write_settings(machine, f'{above}"INTERPRETER_WIN","C:\\Tools\\python.exe"\n')
    install(machine, NOW)
    assert as_vba_reads(machine.settings, INTERPRETER) == str(machine.python)
    assert as_vba_reads(machine.settings, MODULES) == SERVED_BY


@pytest.mark.parametrize("above", ["\n", "a remark\n"])
def test_settings_that_xlwings_vba_does_not_find_are_written_anew(
    machine: Machine, above: str
) -> None:
    install(machine, NOW)
    machine.settings.write_text(above + machine.settings.read_text())
    assert as_vba_reads(machine.settings, INTERPRETER) != str(machine.python)
    install(machine, NOW)
    assert as_vba_reads(machine.settings, INTERPRETER) == str(machine.python)


def test_a_path_that_the_code_page_lacks_leaves_the_settings_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(locale, "getencoding", lambda: "cp1252")
    path = tmp_path / "xlwings.conf"
    path.write_bytes(b'"ONEDRIVE_WIN","C:\\Users"\n')
    with pytest.raises(FileFault, match=r"'\u0141' in .*ukasz.* is no letter of .*cp1252"):
        change_settings(path, {INTERPRETER: "C:\\Users\\\u0141ukasz\\python.exe"}, NOW)
    assert path.read_bytes() == b'"ONEDRIVE_WIN","C:\\Users"\n'
    assert list(tmp_path.iterdir()) == [path]


def test_this_machine_has_the_places_that_xlwings_has() -> None:
    machine = this_machine()
    assert machine.windows == (sys.platform == "win32")
    assert machine.python == Path(sys.executable)
    if sys.platform != "darwin":
        assert Path(xlwings.USER_CONFIG_FILE) == machine.settings
    assert machine.package("xlwings") == package("xlwings")
    assert machine.package("no_such_package") is None
    assert EXCEL_KEY.endswith(r"App Paths\excel.exe")
    assert machine.run([sys.executable, "-c", "print('hello')"]).stdout == "hello\n"


# The command


def command(*words: str) -> tuple[int, str]:
    result = CliRunner().invoke(app, ["addin", "excel", *words])
    return result.exit_code, result.output


elsewhere = pytest.mark.skipif(sys.platform == "win32", reason="says what other systems are told")


@elsewhere
@pytest.mark.parametrize("words", [[], ["--remove"]])
def test_elsewhere_it_explains_and_does_nothing(words: list[str]) -> None:
    status, said = command(*words)
    assert status == 1
    assert "nothing was done" in said
    assert "lumbercalc addin calc" in said
    assert "samples/xlwings_lite" in said


@elsewhere
def test_elsewhere_check_fails() -> None:
    status, said = command("--check")
    assert status == 1
    assert said.startswith("missing  Windows: ")


def test_vba_module_is_written_anywhere(tmp_path: Path) -> None:
    file = tmp_path / "lumbercalc.bas"
    assert command("--wrappers", str(file)) == (0, f"wrote {file}\n")
    assert file.read_bytes() == wrappers_text().encode("ascii")
    status, said = command("--wrappers", str(file))
    assert (status, "there is a file already" in said) == (2, True)
    status, said = command("--wrappers", str(tmp_path / "none" / "x.bas"))
    assert (status, said.count("\n")) == (2, 1)


def test_command_on_a_windows_machine(machine: Machine, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("lumbercalc.hosts.excel.machine.this_machine", lambda: machine)
    status, said = command()
    assert status == 0
    assert "done     xlwings' add-in" in said
    assert str(machine.vba_module) in said  # what to import by hand
    # imported beside the one that is there it gets another name, and each function is there twice
    assert "first right-click the module lumbercalc that is there, and remove it" in said
    assert command("--check")[0] == 0
    status, said = command("--remove")
    assert (status, machine.vba_module.exists()) == (0, False)
    assert command("--check")[0] == 1


def test_help_says_that_it_was_not_run_on_windows() -> None:
    assert "not run on Windows" in " ".join(command("--help")[1].split())
