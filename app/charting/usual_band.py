"""Between which numbers a field neither refuses nor asks: what may be passed without waiting."""

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from app.charting.facts import Reading
from app.charting.field import Field, Jump, Range, Shape


def usual_band(field: Field, last: Reading | None) -> Range | None:
    """The numbers in the field's own unit that it takes unasked beside this last value.

    Only the field by itself is looked at; fields against each other come after it. None where no
    number at all would pass: another shape, no bounds, or bands that do not meet.
    """
    if field.shape is not Shape.NUMBER or field.hard is None:
        return None
    bands = [field.hard, *filter(None, (field.soft, _around(field.jump, last)))]
    low = max((band.low for band in bands if band.low is not None), default=None)
    high = min((band.high for band in bands if band.high is not None), default=None)
    if low is not None and high is not None and low > high:
        return None
    return Range(low, high)


def _around(jump: Jump | None, last: Reading | None) -> Range | None:
    """As far from the last value as it may move; rounded inwards to what a field can show."""
    if jump is None or last is None or last.number is None or not last.has_value:
        return None
    by = abs(last.number) * jump.by / 100 if jump.percent else jump.by
    if jump.percent and last.number.is_zero():
        return None
    cent = Decimal("0.01")
    low = (last.number - by).quantize(cent, ROUND_CEILING)
    return Range(low, (last.number + by).quantize(cent, ROUND_FLOOR))
