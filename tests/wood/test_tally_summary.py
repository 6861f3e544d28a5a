import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lumbercalc.wood.tally_summary import ALL_SPECIES, TOTAL, tally_summary

CHERRY, WALNUT = "Cherry, black", "Walnut, black"

rows = st.lists(
    st.tuples(
        st.sampled_from([CHERRY, WALNUT, "Ash, white"]),
        st.sampled_from([1.0, 1.25, 2.0]),
        st.integers(0, 5000),
        st.sampled_from(["", "FAS", "fas", "1C"]),
    ),
    min_size=1,
    max_size=30,
)


def lots(*columns):
    """List the rows of a summary that are no totals, and the totals by species."""
    listed = list(zip(*tally_summary(*columns), strict=True))
    totals = {name: bf for name, inch, grade, bf in listed if math.isnan(inch) and grade == TOTAL}
    return [row for row in listed if not math.isnan(row[1])], totals


def test_rows_of_one_kind_are_added_up():
    kinds, totals = lots(
        [WALNUT, CHERRY, WALNUT, WALNUT], [2, 1, 2, 1], [10, 20, 30, 40], ["FAS", "1C", "FAS", ""]
    )
    assert kinds == [
        (CHERRY, 1, "1C", 20),
        (WALNUT, 1, "", 40),
        (WALNUT, 2, "FAS", 40),
    ]
    assert totals == {CHERRY: 20, WALNUT: 80, ALL_SPECIES: 100}


def test_a_total_follows_each_species_and_the_last_is_that_of_all():
    summary = tally_summary([WALNUT, CHERRY], [1, 1], [5, 7])
    assert summary.species == [CHERRY, CHERRY, WALNUT, WALNUT, ALL_SPECIES]
    assert summary.grade == ["", TOTAL, "", TOTAL, TOTAL]
    assert summary.bf == [7, 7, 5, 5, 12]


def test_grades_are_one_in_any_case_and_shown_as_first_typed():
    kinds, _ = lots([CHERRY] * 3, [1] * 3, [1, 2, 4], ["Sel", "SEL", "sel"])
    assert kinds == [(CHERRY, 1, "Sel", 7)]


def test_a_thickness_that_was_computed_is_that_which_was_typed():
    kinds, _ = lots([CHERRY] * 2, [1.1 + 2.2, 3.3], [1, 2])
    assert [bf for *_, bf in kinds] == [3]


@given(rows)
def test_nothing_is_lost_or_counted_twice(tally):
    kinds, totals = lots(*zip(*tally, strict=True))
    assert len({row[:3] for row in kinds}) == len(kinds)
    assert totals[ALL_SPECIES] == sum(bf for *_, bf in kinds) == sum(row[2] for row in tally)
    for species, total in totals.items():
        if species != ALL_SPECIES:
            assert total == sum(row[3] for row in kinds if row[0] == species)


@given(rows, st.randoms())
def test_the_order_of_the_tally_does_not_matter(tally, random):
    upper = [(name, inch, bf, grade.upper()) for name, inch, bf, grade in tally]
    shuffled = random.sample(upper, len(upper))
    assert lots(*zip(*shuffled, strict=True)) == lots(*zip(*upper, strict=True))


def test_a_part_of_the_rows_makes_no_more_than_all():
    whole = tally_summary([CHERRY, WALNUT], [1, 2], [5.5, 7])
    assert tally_summary([CHERRY], [1], [5.5]).bf[-1] == pytest.approx(whole.bf[-1] - 7)
