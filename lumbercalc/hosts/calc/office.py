"""The LibreOffice that is installed on this machine: where it is and what it can do."""

from __future__ import annotations

import os
import re
import shutil
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from lumbercalc.hosts import programs
from lumbercalc.hosts.calc.link import without_python

TESTED = (25, 2)
"""The oldest LibreOffice that the add-in is tested with; 7.4 loses the names in an .xlsx."""

USUAL_PLACES = (
    "/usr/lib/libreoffice/program",
    "/usr/lib64/libreoffice/program",
    "/opt/libreoffice*/program",
    "/Applications/LibreOffice.app/Contents/MacOS",
    "~/Applications/LibreOffice.app/Contents/MacOS",
    "C:/Program Files/LibreOffice/program",
    "C:/Program Files (x86)/LibreOffice/program",
)
"""Where soffice lies when it is not on the PATH."""


class CalcError(OSError):
    """Calc is missing, or the add-in cannot be put into it; the message says what to do."""


@dataclass(frozen=True)
class Office:
    """An installed LibreOffice.

    Parameters
    ----------
    soffice, unopkg : Path
        The program, and its manager of extensions.
    profile : Path, optional
        Folder of a user profile to use in place of the user's own.
    shared : Path, optional
        Folder of the extensions for all users to use in place of the program's own.
    """

    soffice: Path
    unopkg: Path
    profile: Path | None = None
    shared: Path | None = None

    @property
    def options(self) -> tuple[str, ...]:
        """Arguments that point soffice and unopkg at the profile."""
        folders = {"UserInstallation": self.profile, "UNO_SHARED_PACKAGES_CACHE": self.shared}
        return tuple(
            f"-env:{name}={folder.resolve().as_uri()}"
            for name, folder in folders.items()
            if folder is not None
        )

    @property
    def program(self) -> Path:
        """The folder of the program itself, behind links."""
        return self.soffice.resolve().parent

    @property
    def user_profile(self) -> Path:
        """The folder of the user's settings."""
        return self.profile or default_profile()

    @property
    def extension_folders(self) -> tuple[Path, Path]:
        """Where unpacked extensions lie: the user's, and those for all users."""
        shared = self.shared or self.program.parent / "share" / "uno_packages" / "cache"
        return (
            self.user_profile / "user" / "uno_packages" / "cache" / "uno_packages",
            shared / "uno_packages",
        )

    def version(self) -> tuple[int, ...]:
        """Ask the program for its version.

        Returns
        -------
        tuple of int
            Such as (25, 2, 3, 2); empty when it does not say.
        """
        said = run([self.soffice, *self.options, "--version"]).stdout
        found = re.search(r"\b(\d+(?:\.\d+)+)", said)
        return tuple(int(part) for part in found[1].split(".")) if found else ()

    def runs_python(self) -> bool:
        """Whether extensions written in Python run in it."""
        folders = (self.program, self.program.parent / "Resources")
        return any((folder / "pythonloader.py").exists() for folder in folders)

    def python(self) -> Path:
        """Find its own Python as a program: the bundled one, or on Linux the system's.

        Returns
        -------
        Path
            The first one that has the uno module.

        Raises
        ------
        CalcError
            There is none.
        """
        resources = self.program.parent / "Resources"
        beside = [self.program / "python", self.program / "python.exe", resources / "python"]
        found = [Path(path) for path in ("/usr/bin/python3", shutil.which("python3")) if path]
        for candidate in (*beside, *found):
            if candidate.is_file() and not run([candidate, "-c", "import uno"]).returncode:
                return candidate
        raise CalcError("no Python with the uno module was found (Debian: python3-uno)")

    def is_running(self) -> bool:
        """Whether it is open with this profile (or was not closed in order)."""
        return (self.user_profile / ".lock").exists()


def find_office() -> Office:
    """Find LibreOffice on the PATH and in the usual places.

    Returns
    -------
    Office
        The first one found.

    Raises
    ------
    CalcError
        None is installed.
    """
    on_path = [shutil.which(name) for name in ("soffice", "libreoffice")]
    for soffice in (*(Path(path) for path in on_path if path), *_in_usual_places()):
        unopkg = _program(soffice.resolve().parent, "unopkg")
        if unopkg is not None:
            return Office(soffice, unopkg)
    raise CalcError(
        "LibreOffice Calc was not found: install LibreOffice 25.2 or later, "
        "or put the folder of its soffice program on the PATH"
    )


def default_profile() -> Path:
    """Name the folder where LibreOffice keeps the user's settings.

    Returns
    -------
    Path
        It need not exist yet.
    """
    home = Path.home()
    if sys.platform == "win32":
        base = Path(os.environ.get("APPDATA", home / "AppData" / "Roaming")) / "LibreOffice"
    elif sys.platform == "darwin":
        base = home / "Library" / "Application Support" / "LibreOffice"
    else:
        named = Path(os.environ.get("XDG_CONFIG_HOME") or home / ".config")
        # LibreOffice passes over a folder that is not there
        base = (named if named.is_dir() else home / ".config") / "libreoffice"
    return base / "4"


def office_environment() -> dict[str, str]:
    """Give the environment for LibreOffice's programs, without what belongs to this Python.

    Returns
    -------
    dict of str to str
        Without Python's own variables; on Linux the system's programs come first on the PATH.
        LibreOffice's Python takes its home from the first python3 there: one of another build
        (pyenv, conda) makes it fail with std::bad_alloc.

    Examples
    --------
    >>> any(name.startswith("PYTHON") for name in office_environment())
    False
    """
    environment = without_python(os.environ)
    if sys.platform == "linux":
        environment["PATH"] = os.pathsep.join(["/usr/bin", "/bin", environment.get("PATH", "")])
    return environment


def run(command: Sequence[str | Path]) -> programs.Said:
    """Run one of LibreOffice's programs, without the variables of this Python.

    Parameters
    ----------
    command : sequence of str or Path
        The program and its arguments.

    Returns
    -------
    subprocess.CompletedProcess
        With what it printed.

    Raises
    ------
    CalcError
        When it took too long, and was ended.
    """
    try:
        return programs.run(command, office_environment())
    except TimeoutError as slow:
        raise CalcError(f"{slow}: close LibreOffice and try again") from None


def _in_usual_places() -> list[Path]:
    found: list[Path] = []
    for place in USUAL_PLACES:
        pattern = Path(place).expanduser()
        folders = sorted(pattern.parent.parent.glob(f"{pattern.parent.name}/{pattern.name}"))
        found += [soffice for each in folders if (soffice := _program(each, "soffice"))]
    return found


def _program(folder: Path, name: str) -> Path | None:
    for suffix in (".com", ".exe", ""):  # on Windows the .com is the one that prints
        if (folder / f"{name}{suffix}").is_file():
            return folder / f"{name}{suffix}"
    return None
