"""Changes that a policy keeps as the logarithm of a ratio, written and typed as percent.

A logarithm counts falls and rises alike, which is why rules add and compare those; nobody at a bed
thinks in them. The file keeps its numbers; this is the one place where they become percent and
percent become them.
"""

from decimal import ROUND_HALF_UP, Decimal

from msgspec import Struct

from app.rules.policy_tree import Entry
from app.rules.watch.rules import RULES
from app.rules.watch.step import Fall, Slide, Step

OF_THE_CHANGE = ("twice", "once", "by", "each", "clear")
BESIDE = "beside_by"
"""How far another series must have fallen along; always a fall."""

LEAST, MOST_OF_A_FALL, MOST_OF_A_RISE = Decimal(1), Decimal(99), Decimal(900)
_ONE_PLACE, _FOUR_PLACES = Decimal("0.1"), Decimal("0.0001")
_RULES = {rule.key: rule for rule in RULES}


class Share(Struct, frozen=True):
    """How far below, or above, the level before: in percent of that level."""

    rising: bool = False

    @property
    def most(self) -> Decimal:
        """The most percent that can be typed."""
        return MOST_OF_A_RISE if self.rising else MOST_OF_A_FALL

    def percent(self, kept: Decimal | int) -> Decimal:
        """Percent, one decimal: 0.25 is 22.1 % below the level, or 28.4 % above it."""
        number = Decimal(kept)
        share = number.exp() - 1 if self.rising else 1 - (-number).exp()
        return (100 * share).quantize(_ONE_PLACE, ROUND_HALF_UP)

    def kept(self, percent: Decimal) -> Decimal:
        """The logarithm that the file keeps; `percent` lies between LEAST and `most`."""
        ratio = 1 + percent / 100 if self.rising else 1 - percent / 100
        return abs(ratio.ln()).quantize(_FOUR_PLACES, ROUND_HALF_UP).normalize()

    @property
    def unit(self) -> str:
        """What stands behind the number."""
        return f"% {'above' if self.rising else 'below'} the level"


def share_of(where: str) -> Share | None:
    """How the entry in that place is written in percent; None where it is a plain number."""
    table, _, name = where.rpartition(".")
    rule = _RULES.get(table.removeprefix("rules."))
    if rule is None:
        return None
    if name == BESIDE:
        return Share()
    test = rule.test
    if isinstance(test, Step | Fall | Slide) and test.change.ratio and name in OF_THE_CHANGE:
        return Share(test.change.rising)
    return None


def as_written(where: str, value: Entry | None) -> Entry | None:
    """The entry as a page writes it: percent for a share, anything else as it is."""
    share = share_of(where)
    if share is None or isinstance(value, bool) or not isinstance(value, int | Decimal):
        return value
    return share.percent(value)
