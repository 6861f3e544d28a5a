"""What Stacks says of the stack that a row names."""

from __future__ import annotations


def of_named_stack(key: str) -> str:
    """Write the formula part that looks a figure of the row's stack up on Stacks.

    Parameters
    ----------
    key : str
        Of a column of Stacks.

    Returns
    -------
    str
        For a table with a column `stack`, the stack's name; #N/A where Stacks does not have it.

    Examples
    --------
    >>> of_named_stack("start")
    'INDEX(stack_start,MATCH({stack},stack_name,0))'
    """
    return f"INDEX(stack_{key},MATCH({{stack}},stack_name,0))"


def of_stack(key: str) -> str:
    """Write the formula part that looks a figure of the row's stack up on Stacks.

    Parameters
    ----------
    key : str
        Of a column of Stacks.

    Returns
    -------
    str
        For a table with a column `pile`, the row on Stacks.
    """
    return f"INDEX(stack_{key},{{pile}})"
