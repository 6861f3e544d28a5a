"""The tests leave nothing behind."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]


@pytest.mark.parametrize("processes", ["0", "1"])
def test_the_folder_of_the_tests_own_settings_is_removed(tmp_path: Path, processes: str) -> None:
    some = [sys.executable, "-m", "pytest", "-q", "-n", processes, "tests/test_file_checks.py"]
    folders = dict.fromkeys(("TMPDIR", "TEMP", "TMP"), str(tmp_path))
    ran = subprocess.run(
        some, cwd=ROOT, env={**os.environ, **folders}, capture_output=True, text=True, check=False
    )
    assert ran.returncode == 0, ran.stdout
    assert [left.name for left in tmp_path.iterdir() if not left.name.startswith("pytest")] == []
