import pytest

from lumbercalc.wood import sticker_advice


@pytest.mark.parametrize(
    ("width_ft", "sticker_in", "fan", "of_stickers", "of_width"),
    [
        (4, 0.5, False, sticker_advice.THIN_STILL, sticker_advice.USUAL_STILL),
        (4, 0.5, True, sticker_advice.THIN_FAN, sticker_advice.USUAL_FAN),
        (2, 0.75, False, sticker_advice.FOR_THIN_BOARDS, sticker_advice.NARROW),
        (4, 0.75, False, sticker_advice.FOR_THIN_BOARDS, sticker_advice.USUAL_STILL),
        (4, 0.75, True, sticker_advice.FOR_THIN_BOARDS, sticker_advice.USUAL_FAN),
        (5, 1, True, sticker_advice.FOR_ALL_BOARDS, sticker_advice.USUAL_FAN),
        (5, 1, False, sticker_advice.FOR_ALL_BOARDS, sticker_advice.USUAL_STILL),
        (5.5, 1.5, True, sticker_advice.FOR_ALL_BOARDS, sticker_advice.WIDE_FAN),
        (8, 2, False, sticker_advice.THICK, sticker_advice.WIDE_STILL),
    ],
)
def test_sticker_advice(width_ft, sticker_in, fan, of_stickers, of_width):
    assert sticker_advice.sticker_advice(width_ft, sticker_in, fan) == f"{of_stickers}; {of_width}"


def test_every_advice_fits_in_the_text_of_a_formula():
    longest = [
        max(map(len, texts)) for texts in (sticker_advice.OF_STICKERS, sticker_advice.OF_WIDTH)
    ]
    assert sum(longest) + len("; ") <= 255
