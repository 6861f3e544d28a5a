"""Set lumbercalc up in .venv and run it: `python3 .ci/go.py demo` or `python3 .ci/go.py test`.

Standard library only, for a fresh machine with Python 3.11 or later on any system.
"""

from __future__ import annotations

import os
import subprocess
import sys
import venv
from pathlib import Path

HERE = Path(__file__).resolve().parents[1]
ENVIRONMENT = HERE / ".venv"
PYTHON = ENVIRONMENT / ("Scripts/python.exe" if os.name == "nt" else "bin/python")

AT_ONCE = (os.cpu_count() or 1) + 1
"""Processes that run tests, one more than processors: they wait for Calc, for workers, and for a
workbook that another one computes."""

COMMANDS = {
    "demo": (".", ["-m", "lumbercalc.cli", "demo", "lumber-shop-demo.xlsx"]),
    "test": (
        ".[dev]",
        ["-m", "pytest", f"-n{AT_ONCE}", "--dist", "loadfile", "--no-loadscope-reorder"],
    ),
}
"""What is installed, and what is run then. The tests run in the order of the folders, which ends
with the short ones: by the number of tests in a file the few long ones would come last."""


def main() -> int:
    """Make the environment, install the project, run the command with any further arguments."""
    if sys.version_info < (3, 11):  # noqa: UP036 - an older one may well be what starts this
        print(f"Python 3.11 or later is needed; this is {sys.version.split()[0]}")
        return 2
    if len(sys.argv) < 2 or sys.argv[1] not in COMMANDS:
        print(__doc__)
        return 2
    what, command = COMMANDS[sys.argv[1]]
    if not PYTHON.exists():
        print(f"making {ENVIRONMENT} ...", flush=True)
        try:
            venv.create(ENVIRONMENT, with_pip=True)
        except subprocess.CalledProcessError:
            print("this Python cannot make an environment; on Debian: apt-get install python3-venv")
            return 2
    print("installing lumbercalc and what it needs ...", flush=True)
    pip = [str(PYTHON), "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    if subprocess.run([*pip, "--editable", what], cwd=HERE).returncode:
        return 1
    return subprocess.run([str(PYTHON), *command, *sys.argv[2:]], cwd=HERE).returncode


if __name__ == "__main__":
    sys.exit(main())
