"""What an index answers: a value, a class, "not available" or a question, never a bare number.

Every answer carries the inputs that it used, so that a page can open any number to its sum.
"""

from collections.abc import Mapping
from decimal import Decimal

from msgspec import Struct, field

Given = Mapping[str, Decimal | str | bool | None]
"""Inputs of an index by their short names ("vt", "peep_set"), in canonical units.

Numbers are decimals that keep the places somebody typed. Text in a number's place is the reason
why there is none ("not done: effort"). A missing number is None or absent; for what validity hangs
on (`passive`, `sample`) None means "asked and not answered", absent "the caller says nothing".
"""


class Value(Struct, frozen=True):
    """A number that holds: unrounded, with the text that a page shows for it.

    `number` is in `unit`. `shown` is rounded half-up on decimals (a cylinder's minutes: down);
    limits are tested on what is shown, so a number and its flag never disagree.
    """

    number: Decimal
    unit: str
    shown: str
    used: Mapping[str, Decimal | str | bool] = field(default_factory=dict)
    basis: str = ""
    """What a reader must know beside the number: "from set PEEP", "on support 10"."""


class Verdict(Struct, frozen=True):
    """A word instead of a number: the band a value falls into ("moderate", "on table")."""

    word: str
    used: Mapping[str, Decimal | str | bool] = field(default_factory=dict)
    basis: str = ""


class NotAvailable(Struct, frozen=True):
    """A precondition fails: there is no number, and `reason` says why in a reader's words.

    `missing` names the inputs that would have to be there (short names); empty when the inputs are
    there but the index does not hold (assisted breaths, SpO2 over 97).
    """

    reason: str
    missing: tuple[str, ...] = ()
    applicable: bool = True
    """False when the index has no meaning here (family, route, age), so nobody can fill it in."""


class Query(Struct, frozen=True):
    """The inputs contradict each other or look mistyped: at the bedside this would be asked."""

    reason: str


Answer = Value | Verdict | NotAvailable | Query
