"""The builder of the Calc extension: one .oxt, made from the catalogue for one environment."""

from __future__ import annotations

import io
import json
import sys
import zipfile
from importlib import resources
from xml.etree import ElementTree

import lumbercalc
from lumbercalc.hosts.calc.way import Way, package_environment
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.function import Function
from lumbercalc.sheet.help import argument_help, function_help

IDENTIFIER = "org.lumbercalc.addin"
"""Name of the extension in Calc's list of extensions."""

SERVICE = "org.lumbercalc.AddIn"
"""Name of the add-in; Calc writes it into .ods files, so it must never change."""

EXPLAINS = "PROBLEM"
"""The function that answers in words, also where no other function can answer."""

OOR = "http://openoffice.org/2001/registry"
MANIFEST = "http://openoffice.org/2001/manifest"
DESCRIPTION = "http://openoffice.org/extensions/description/2006"

MEDIA_TYPES = {
    "types.idl": "application/vnd.sun.star.uno-typelibrary;type=RDB",
    "CalcAddIns.xcu": "application/vnd.sun.star.configuration-data",
    "component.py": "application/vnd.sun.star.uno-component;type=Python",
}
"""What Calc registers; the other files of the extension lie beside."""


DOCUMENT = "[in] com::sun::star::beans::XPropertySet document"
"""An argument that Calc fills in itself and shows nobody: what it counts days from is asked."""


def build(way: Way) -> bytes:
    """Make the extension.

    Parameters
    ----------
    way : Way
        Which way it calculates.

    Returns
    -------
    bytes
        The .oxt file: the same bytes for the same catalogue, environment and way.
    """
    package = resources.files("lumbercalc.hosts.calc")
    files = {
        "META-INF/manifest.xml": manifest(),
        "description.xml": description(),
        "types.idl": interface(),
        "CalcAddIns.xcu": configuration(),
        "functions.json": settings(way),
        "component.py": package.joinpath("component.py").read_text("utf-8"),
        "pythonpath/lumbercalc_addin/__init__.py": "",
        **{
            f"pythonpath/lumbercalc_addin/{name}": package.joinpath(name).read_text("utf-8")
            for name in ("inside.py", "link.py", "packing.py", "waiting.py")
        },
    }
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w") as oxt:
        for name, text in files.items():
            entry = zipfile.ZipInfo(name, date_time=(2020, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            oxt.writestr(entry, text.encode("utf-8"))
    return archive.getvalue()


def method_name(name: str) -> str:
    """Name a function's method; Calc writes it into .ods files, so it must never change.

    Parameters
    ----------
    name : str
        Name in the worksheet.

    Returns
    -------
    str
        Name in the add-in's interface.

    Examples
    --------
    >>> method_name("BOARD_FEET")
    'boardFeet'
    """
    first, *others = name.lower().split("_")
    return first + "".join(word.capitalize() for word in others)


def parameter_name(position: int) -> str:
    """Name an argument inside the interface: Calc sorts them by it, and shows the other name.

    Parameters
    ----------
    position : int
        Place among the arguments, from 0.

    Returns
    -------
    str
        Name in the add-in's interface.

    Examples
    --------
    >>> parameter_name(0)
    'argument01'
    """
    return f"argument{position + 1:02d}"


def help_text(function: Function) -> str:
    """Say in the function wizard what a function does, with its group: Calc has none for add-ins.

    Parameters
    ----------
    function : Function
        A function of the catalogue.

    Returns
    -------
    str
        Its group, its summary and its result.
    """
    return f"{function.group}: {function_help(function)}"


def interface() -> str:
    """Declare every function: any cells in, rows of cells out.

    Returns
    -------
    str
        The interface in UNO's own language, which Calc reads as it is.
    """
    lines = ["module org { module lumbercalc {", "published interface XFunctions {"]
    for function in CATALOGUE.values():
        kinds = ["any"] * len(function.arguments)
        if function.repeats:
            kinds[-1] = "sequence< any >"
        declared = [
            f"[in] {kind} {parameter_name(position)}" for position, kind in enumerate(kinds)
        ]
        if function.takes_days or function.repeats:
            declared.insert(0, DOCUMENT)
        arguments = ", ".join(declared)
        lines.append(f"  any {method_name(function.name)}({arguments});")
    return "\n".join([*lines, "};", "}; };", ""])


def configuration() -> str:
    """Write the names and the help that Calc shows.

    Returns
    -------
    str
        CalcAddIns.xcu: with a CompatibilityName, so that an .xlsx keeps the plain names.
    """
    root = ElementTree.Element(
        f"{{{OOR}}}component-data",
        {f"{{{OOR}}}name": "CalcAddIns", f"{{{OOR}}}package": "org.openoffice.Office"},
    )
    add_in = _node(_node(root, "AddInInfo", replace=False), SERVICE)
    functions = _node(add_in, "AddInFunctions", replace=False)
    for function in CATALOGUE.values():
        node = _node(functions, method_name(function.name))
        _words(node, "DisplayName", function.name)
        _words(node, "Description", help_text(function))
        _value(node, "Category", "Add-In")
        _words(node, "CompatibilityName", function.name)
        parameters = _node(node, "Parameters", replace=False)
        for position, argument in enumerate(function.arguments):
            parameter = _node(parameters, parameter_name(position))
            _words(parameter, "DisplayName", argument.name)
            _words(parameter, "Description", argument_help(argument))
    return _xml(root, {"oor": OOR})


def manifest() -> str:
    """List the files that Calc registers.

    Returns
    -------
    str
        META-INF/manifest.xml.
    """
    root = ElementTree.Element(f"{{{MANIFEST}}}manifest")
    for name, media_type in MEDIA_TYPES.items():
        ElementTree.SubElement(
            root,
            f"{{{MANIFEST}}}file-entry",
            {f"{{{MANIFEST}}}full-path": name, f"{{{MANIFEST}}}media-type": media_type},
        )
    return _xml(root, {"manifest": MANIFEST})


def description() -> str:
    """Name the extension and its version.

    Returns
    -------
    str
        description.xml.
    """
    root = ElementTree.Element(f"{{{DESCRIPTION}}}description")
    ElementTree.SubElement(root, f"{{{DESCRIPTION}}}identifier", {"value": IDENTIFIER})
    ElementTree.SubElement(root, f"{{{DESCRIPTION}}}version", {"value": lumbercalc.__version__})
    names = ElementTree.SubElement(root, f"{{{DESCRIPTION}}}display-name")
    ElementTree.SubElement(names, f"{{{DESCRIPTION}}}name", {"lang": "en"}).text = "lumbercalc"
    return _xml(root, {"": DESCRIPTION})


def settings(way: Way) -> str:
    """Tell the add-in its functions, and what answers for them.

    Parameters
    ----------
    way : Way
        Which way it calculates.

    Returns
    -------
    str
        functions.json.
    """
    return json.dumps(
        {
            "service": SERVICE,
            "explains": EXPLAINS,
            "command": worker_command(),
            "environment": package_environment(),
            "inside": way.inside,
            "way": way.why,
            "functions": [
                {
                    "name": function.name,
                    "method": method_name(function.name),
                    "repeats": function.repeats,
                    "takes_days": function.takes_days,
                }
                for function in CATALOGUE.values()
            ],
        },
        indent=1,
    )


def worker_command() -> list[str]:
    """Name the program that answers: this Python, which ignores the folder Calc was started in.

    Returns
    -------
    list of str
        The interpreter and its arguments.
    """
    return [sys.executable, "-P", "-m", "lumbercalc.hosts.calc.worker"]


def _node(parent: ElementTree.Element, name: str, replace: bool = True) -> ElementTree.Element:
    attributes = {f"{{{OOR}}}name": name}
    if replace:
        attributes[f"{{{OOR}}}op"] = "replace"
    return ElementTree.SubElement(parent, "node", attributes)


def _value(parent: ElementTree.Element, name: str, text: str) -> ElementTree.Element:
    prop = ElementTree.SubElement(parent, "prop", {f"{{{OOR}}}name": name})
    value = ElementTree.SubElement(prop, "value")
    value.text = text
    return value


def _words(parent: ElementTree.Element, name: str, text: str) -> None:
    # Calc takes the English words in every language that has none of its own
    _value(parent, name, text).set("{http://www.w3.org/XML/1998/namespace}lang", "en-US")


def _xml(root: ElementTree.Element, prefixes: dict[str, str]) -> str:
    for prefix, namespace in prefixes.items():
        ElementTree.register_namespace(prefix, namespace)
    ElementTree.indent(root)
    text = ElementTree.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'
