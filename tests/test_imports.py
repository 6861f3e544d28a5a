"""Imports go down only: from the commands to the book, the hosts, the functions and the wood."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import lumbercalc

PACKAGE = Path(lumbercalc.__file__).parent
LAYERS = ("wood", "sheet", "hosts", "book", "cli")
"""From the lowest; modules beside them are lower than all."""
FACE = LAYERS.index("sheet")
"""Of the package itself: `import lumbercalc` gives the functions."""
MODULES = sorted(PACKAGE.rglob("*.py"))


def level(name: str) -> int:
    """Give the place of a module's layer, by its name in full."""
    _, *within = name.split(".")
    if not within:
        return FACE
    return LAYERS.index(within[0]) if within[0] in LAYERS else -1


def imported(source: str) -> Iterator[str]:
    """Name what a module imports of the package, wherever in it."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            names = [alias.name for alias in node.names]
        elif isinstance(node, ast.ImportFrom) and node.module == "lumbercalc":
            known = {path.stem for path in PACKAGE.iterdir()}
            within = [alias.name for alias in node.names if alias.name in known]
            names = [f"lumbercalc.{name}" for name in within] or ["lumbercalc"]
        else:
            names = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        yield from (name for name in names if name.split(".")[0] == "lumbercalc")


def upward(name: str, source: str) -> list[str]:
    return [each for each in imported(source) if level(each) > level(name)]


@pytest.mark.parametrize(
    ("name", "source", "found"),
    [
        ("lumbercalc.wood.air", "import lumbercalc", ["lumbercalc"]),
        ("lumbercalc.wood.air", "from lumbercalc.sheet import dates", ["lumbercalc.sheet"]),
        ("lumbercalc.hosts.step", "def f():\n    import lumbercalc.book", ["lumbercalc.book"]),
        ("lumbercalc.files", "from lumbercalc import wood", ["lumbercalc.wood"]),
        ("lumbercalc.files", "from lumbercalc import faults", []),
        ("lumbercalc.book.macros", "from lumbercalc.hosts.excel import wrappers", []),
    ],
)
def test_an_import_upward_is_found(name: str, source: str, found: list[str]) -> None:
    assert upward(name, source) == found


def test_imports_go_down_only() -> None:
    assert len(MODULES) > 200
    told = {}
    for path in MODULES:
        within = path.relative_to(PACKAGE).with_suffix("").parts
        name = ".".join(["lumbercalc", *(part for part in within if part != "__init__")])
        told[name] = upward(name, path.read_text(encoding="utf-8"))
    assert {name: found for name, found in told.items() if found} == {}
