"""The extension file: complete, well-formed, and made from the catalogue alone."""

from __future__ import annotations

import ast
import io
import json
import re
import sys
import zipfile
from importlib import resources

import pytest
from defusedxml import ElementTree

from lumbercalc.hosts.calc import extension, worker
from lumbercalc.hosts.calc.way import ASKED
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Function

NAME = f"{{{extension.OOR}}}name"

# words of UNO's interface language, and the methods that every Calc add-in has already:
# LibreOffice's API reference, com.sun.star.sheet.XAddIn and what it builds on, from memory
TAKEN = set(
    """
any attribute boolean bound byte case char const constants constrained context default double
enum exception fixed float get hyper in inout interface long maybeambiguous maybedefault maybevoid
methods module needs observes octet oneway optional out properties property published raises
readonly removable sequence service set short singleton string struct switch transient type
typedef union unsigned void
acquire release queryinterface gettypes getimplementationid getprogrammaticfuntionname
getdisplayfunctionname getfunctiondescription getdisplayargumentname getargumentdescription
getprogrammaticcategoryname getdisplaycategoryname setlocale getlocale getservicename
getimplementationname supportsservice getsupportedservicenames
""".split()  # noqa: SIM905 - a word list reads better
)


@pytest.fixture(scope="module")
def files() -> dict[str, str]:
    with zipfile.ZipFile(io.BytesIO(extension.build(ASKED))) as oxt:
        assert oxt.testzip() is None
        return {name: oxt.read(name).decode("utf-8") for name in oxt.namelist()}


def test_the_same_catalogue_gives_the_same_bytes() -> None:
    assert extension.build(ASKED) == extension.build(ASKED)


def test_every_file_that_calc_registers_is_there(files: dict[str, str]) -> None:
    manifest = ElementTree.fromstring(files["META-INF/manifest.xml"])
    listed = {entry.get(f"{{{extension.MANIFEST}}}full-path") for entry in manifest}
    assert listed == {"types.idl", "CalcAddIns.xcu", "component.py"}
    assert listed < set(files)
    assert ElementTree.fromstring(files["description.xml"]) is not None


@pytest.mark.parametrize("function", CATALOGUE.values(), ids=list(CATALOGUE))
def test_a_function_is_declared_and_explained(files: dict[str, str], function: Function) -> None:
    method = extension.method_name(function.name)
    declared = re.search(rf"  any {method}\((.*)\);", files["types.idl"])
    assert declared is not None
    asks_for_days = function.takes_days or function.repeats
    assert declared[1].startswith(extension.DOCUMENT) == asks_for_days
    assert declared[1].count("[in]") == len(function.arguments) + asks_for_days
    assert ("sequence< any > argument" in declared[1]) == function.repeats

    root = ElementTree.fromstring(files["CalcAddIns.xcu"])
    (node,) = [node for node in root.iter("node") if node.get(NAME) == method]
    props = {prop.get(NAME): prop.findtext("value") for prop in node.findall("prop")}
    assert props["DisplayName"] == props["CompatibilityName"] == function.name
    assert props["Description"] == (
        f"{function.group}: {function.summary} Gives {function.result}."
    )
    (parameters,) = node.findall("node")
    assert [parameter.get(NAME) for parameter in parameters] == re.findall(
        r"argument\d\d", declared[1]
    )
    for argument, parameter in zip(function.arguments, parameters, strict=True):
        words = {prop.get(NAME): prop.findtext("value") for prop in parameter.findall("prop")}
        assert words["DisplayName"] == argument.name
        assert str(words["Description"]).endswith(argument.description)
        assert str(words["Description"]).startswith("[optional] ") == argument.optional


def test_calc_sorts_the_arguments_of_a_function_into_their_order() -> None:
    longest = max(len(function.arguments) for function in CATALOGUE.values())
    names = [extension.parameter_name(position) for position in range(longest)]
    assert names == sorted(names)


def test_method_names_are_legal_and_nobody_elses() -> None:
    methods = [extension.method_name(name) for name in CATALOGUE]
    assert len(set(methods)) == len(methods)
    for method in methods:
        assert re.fullmatch(r"[a-z][A-Za-z0-9]*", method)
        assert method.lower() not in TAKEN


def test_the_settings_name_this_interpreter_and_every_function(files: dict[str, str]) -> None:
    settings = json.loads(files["functions.json"])
    assert settings["command"][0] == sys.executable
    assert settings["command"][-1] == worker.__name__
    assert [function["name"] for function in settings["functions"]] == list(CATALOGUE)
    assert settings["explains"] in CATALOGUE


@pytest.mark.parametrize(
    "name", ["component.py", "inside.py", "link.py", "packing.py", "waiting.py"]
)
def test_what_runs_in_calc_needs_only_its_python(name: str) -> None:
    source = resources.files("lumbercalc.hosts.calc").joinpath(name).read_text("utf-8")
    tree = ast.parse(source, feature_version=(3, 8))
    imported = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            imported |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            imported.add(str(node.module).split(".")[0])
    calcs_own = {"uno", "unohelper", "com", "org", "lumbercalc_addin", "packing", "waiting"}
    assert imported <= calcs_own | set(sys.stdlib_module_names)
