"""PsychroLib's formulas on columns."""

from __future__ import annotations

import numpy as np
import psychrolib

from lumbercalc.wood.psychrometrics import row_by_row


def test_a_row_that_comes_again_is_computed_once() -> None:
    asked = []

    def pressure(temp_f: float) -> float:
        asked.append(temp_f)
        return float(psychrolib.GetSatVapPres(temp_f))

    found = row_by_row(pressure, [[70.0, 40.0], [70.0, 70.0]])
    assert sorted(asked) == [40.0, 70.0]
    # ASHRAE Handbook Fundamentals (2017), ch. 1, Table 3: 0.36320 psi at 70 deg F, 0.12173 at 40
    # (from memory)
    np.testing.assert_allclose(found, [[0.3632, 0.12173], [0.3632, 0.3632]], rtol=2e-3)


def test_a_row_that_is_no_air_leaves_the_others() -> None:
    found = row_by_row(psychrolib.GetSatVapPres, [70.0, np.nan, 1000.0])
    assert np.isnan(found).tolist() == [False, True, True]
