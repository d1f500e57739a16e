"""The charting hand: rounding, even digits, bounds."""

from random import Random

from seed_demo.pen import EVEN, Pen


def hand(seed: int = 3) -> Pen:
    return Pen(Random(seed))


def test_even_digits_are_written_more_often():
    pen = hand()
    written = [pen.reading(25, 3) for _ in range(4000)]
    even = sum(number % 2 == 0 for number in written) / len(written)
    assert abs(even - (0.5 + EVEN / 2)) < 0.03


def test_a_reading_stays_inside_its_bounds():
    pen = hand()
    written = [pen.reading(97, 4, low=95, high=100) for _ in range(500)]
    assert min(written) == 95
    assert max(written) == 100


def test_an_upper_bound_wins_over_a_lower_one():
    """A plateau never stands above the peak that was read with it."""
    assert hand().reading(30, 0, low=25, high=22) == 22


def test_tenths_have_one_decimal():
    assert hand().tenths(37, 0) == "37.0"
