"""The help of a function in Python: its docstring and example."""

from __future__ import annotations

from lumbercalc.sheet.function import Argument, Function


def docstring(function: Function) -> str:
    """Write the numpydoc text of a function from its declaration.

    Parameters
    ----------
    function : Function
        Its declaration.

    Returns
    -------
    str
        Summary, parameters, returns, errors, source and a worked example.
    """
    lines = [function.summary, ""]
    if function.arguments:
        lines += ["Parameters", "----------"]
        for argument in function.arguments:
            star = "*" if function.repeats and argument is function.arguments[-1] else ""
            lines += [f"{star}{argument.name} : {_type(function, argument)}"]
            lines += [f"    {argument.description}"]
        lines.append("")
    lines += ["Returns", "-------", f"{_returned(function)}", f"    {function.result}", ""]
    lines += ["Raises", "------", "ValueError", "    Names the argument, the value and the limit."]
    lines += ["", "Notes", "-----", f"Source: {function.source}", "", "Examples", "--------"]
    lines += [">>> import lumbercalc as lc", f">>> {example(function)}", f"{_shown(function)}", ""]
    return "\n".join(lines)


def example(function: Function) -> str:
    """Write a function's example as a line of Python.

    Parameters
    ----------
    function : Function
        Its declaration.

    Returns
    -------
    str
        An expression that uses the package as `lc`.
    """
    text = f"lc.{function.python_name}({', '.join(map(repr, function.example.arguments))})"
    if function.spills:
        return f"print({text}[0][0])"
    return f"print(format({text}, '.7g'))" if function.gives == "number" else f"print({text})"


def _shown(function: Function) -> str:
    answer = function.example.answer
    return f"{answer:.7g}" if isinstance(answer, float) else str(answer)


def _type(function: Function, argument: Argument) -> str:
    kind = {
        "number": "float",
        "thickness": "float or str",
        "flag": "bool",
        "date": "date",
        "climate": "table",
        "any": "object",
    }.get(argument.kind, "str")
    alone = argument.kind in ("climate", "any") or function.takes_blocks
    shape = "" if alone else ", or a column of them"
    if argument.shape == "block" and argument.kind != "climate":
        kind = f"column of {kind}"
    return f"{kind}{shape}{', optional' if argument.optional else ''}"


def _returned(function: Function) -> str:
    if function.spills:
        return "list of list"
    kind = {"number": "float", "flag": "bool", "date": "date"}.get(function.gives, "str")
    return kind if function.takes_blocks else f"{kind}, or a column of them"
