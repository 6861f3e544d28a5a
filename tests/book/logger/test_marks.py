"""Signs in cells and headers: the degree sign in the encodings that logs come in."""

from __future__ import annotations

import pytest

from lumbercalc.book.logger.marks import names_temperature, unit_quantity


@pytest.mark.parametrize("written", ["utf-8", "cp1252", "latin-1", "mac_roman", "cp437"])
@pytest.mark.parametrize("read", ["utf-8", "latin-1"])
def test_the_degree_sign_in_another_encoding(written: str, read: str) -> None:
    """Encodings as Python's codecs have them, by the tables of the Unicode Consortium."""
    sign = "°".encode(written).decode(read, errors="replace")
    assert unit_quantity(f"21.5{sign}C") == "temperature"
    assert unit_quantity(f"70.5 {sign}F") == "temperature"
    assert names_temperature(f"A ({sign}F)")
