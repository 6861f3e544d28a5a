"""The type stub that editors read."""

from __future__ import annotations

import ast

import lumbercalc as lc
from lumbercalc.sheet.catalogue import CATALOGUE
from lumbercalc.sheet.stub import STUB, stub


def test_the_stub_is_up_to_date() -> None:
    again = "it is made by: python -m lumbercalc.sheet.stub"
    assert STUB.read_text(encoding="utf-8") == stub(), again


def test_the_stub_declares_the_signatures() -> None:
    declared = {
        node.name: node for node in ast.parse(stub()).body if isinstance(node, ast.FunctionDef)
    }
    assert set(declared) == set(lc.__all__) - {"__version__"}
    for function in CATALOGUE.values():
        arguments = declared[function.python_name].args
        names = [argument.arg for argument in arguments.args]
        names += [arguments.vararg.arg] if arguments.vararg else []
        assert names == [argument.name for argument in function.arguments]
        defaults = [ast.literal_eval(default) for default in arguments.defaults]
        optional = [a.default for a in function.arguments if a.optional and not function.repeats]
        assert defaults == optional


def test_the_answer_of_cells_of_columns_and_of_a_series_has_a_type_of_its_own() -> None:
    declared: dict[str, list[tuple[str, str]]] = {}
    for node in ast.parse(stub()).body:
        if isinstance(node, ast.FunctionDef) and node.returns is not None and node.args.args:
            taken = ast.unparse(node.args.args[0].annotation or node.returns)
            declared.setdefault(node.name, []).append((taken, ast.unparse(node.returns)))
    assert declared["emc"] == [
        ("_Number", "float | Any"),
        ("_Number | _Cells", "NDArray[np.float64] | Any"),
        ("_Number | _Column", "pd.Series[float] | Any"),
    ]
    assert [returned for _, returned in declared["matches_dry_sample"]] == [
        "bool | Any",
        "NDArray[np.bool_] | Any",
        "pd.Series[bool] | Any",
    ]
    assert declared["mean_emc"] == [("_Number | _Column", "float | None")]
    assert declared["lumber_weight"][0] == ("_Name", "float | Any")  # 3.5 is no species


def test_the_package_says_that_it_is_typed() -> None:
    assert STUB.with_name("py.typed").is_file()
