"""What each entry of a policy may be: its shape and how far it may go, declared once.

An entry is known by its name, wherever it stands; one that a newer policy brings is known by what
ships. Bounds catch slips of the hand; inside them the numbers are the unit's own. All of them are
engineering judgement.
"""

from collections.abc import Mapping
from decimal import Decimal
from enum import StrEnum

from msgspec import Struct

from app.charting.derive import CHARTED
from app.charting.fields import FIELDS
from app.rules.policy_tree import CHOSEN_BY_THE_UNIT, Tree, shipped_tree, table_at


class Shape(StrEnum):
    """What an entry looks like."""

    NUMBER = "number"
    WHOLE = "whole"
    YES_NO = "yes_no"
    WORDS = "words"
    TIMES = "times"
    CAUSE = "cause"
    """One of the groups in which flags are told."""


class EntryRule(Struct, frozen=True):
    """How an entry is read. `may_go` says that it may be left out."""

    shape: Shape
    low: Decimal = Decimal(0)
    high: Decimal = Decimal(100_000)
    may_go: bool = False


def _number(low: str, high: str) -> EntryRule:
    return EntryRule(Shape.NUMBER, Decimal(low), Decimal(high))


def _whole(low: int, high: int) -> EntryRule:
    return EntryRule(Shape.WHOLE, Decimal(low), Decimal(high))


_HOURS = _number("0.5", "336")
_CHANGE = _number("0.01", "1000")

_BY_NAME: Mapping[str, EntryRule] = {
    "adult_age_y": _whole(16, 21),
    "barometric_mmhg": _number("400", "800"),
    "late_after_min": _whole(0, 720),
    "overdue_after_min": _whole(0, 720),
    "prone_h": _number("1", "72"),
    "screen_every_h": _number("0", "240"),
    "screen_fio2": _number("21", "100"),
    "screen_peep": _number("0", "30"),
    "stale_h": _HOURS,
    "window_h": _HOURS,
    "from_h": _HOURS,
    "beside_h": _HOURS,
    "hours": _HOURS,
    "count": _whole(1, 10),
    "of": _whole(1, 10),
    "clear_count": _whole(1, 10),
    "least": _whole(1, 50),
    "twice": _CHANGE,
    "once": _CHANGE,
    "by": _CHANGE,
    "each": _CHANGE,
    "own_noise": _number("0", "10"),
}
_BY_END: Mapping[str, EntryRule] = {
    "_days": _whole(1, 365),
    "_h": _HOURS,
    "_hours": _HOURS,
    "_min": _whole(0, 1440),
}
"""Of a number that has no rule of its own, by how its name ends."""
_OF_A_LIMIT: Mapping[str, EntryRule] = {
    "stale_h": _HOURS,
    "essential": EntryRule(Shape.YES_NO),
    "source": EntryRule(Shape.WORDS),
    "group": EntryRule(Shape.CAUSE),
}
LONGEST_WORDS = 400

NAMES_OF_A_LIMIT = ("under", "over", "group", "essential", "stale_h", "source", "band")

STRUCTURE = frozenset({"group", "band"})
"""What an entry of a limit is made of rather than set to; a form leaves it as it is."""


def entry_rule(where: str) -> EntryRule:
    """How the entry in that place is read, such as "limits.ph.over"."""
    table, _, name = where.rpartition(".")
    top = table.partition(".")[0]
    if name == "source" or name.endswith("_source") or not table:
        return EntryRule(Shape.WORDS)
    if name == "on":
        return EntryRule(Shape.YES_NO, may_go=True)
    if top == "limits":
        return _of_a_limit(table.partition(".")[2], name)
    if top in CHOSEN_BY_THE_UNIT:
        least = Decimal(0) if top == "noise" or name == "reserve_psi" else Decimal("0.001")
        return EntryRule(Shape.NUMBER, low=least, may_go=name != "reserve_psi")
    if top == "stale_h":
        return _HOURS
    return _BY_NAME.get(name) or _as_shipped(table, name)


def _of_a_limit(key: str, name: str) -> EntryRule:
    if name not in ("under", "over"):
        return _OF_A_LIMIT.get(name, EntryRule(Shape.WORDS, may_go=True))
    known = FIELDS.get(key)
    if known is None or known.hard is None:
        return EntryRule(Shape.NUMBER, may_go=True)
    low, high = known.hard.low, known.hard.high
    return EntryRule(
        Shape.NUMBER,
        Decimal(0) if low is None else low,
        Decimal(100_000) if high is None else high,
        may_go=True,
    )


def _as_shipped(table: str, name: str) -> EntryRule:
    shipped = table_at(shipped_tree(), table).get(name)
    if isinstance(shipped, bool):
        return EntryRule(Shape.YES_NO)
    if isinstance(shipped, list):
        return EntryRule(Shape.TIMES)
    if isinstance(shipped, str):
        return EntryRule(Shape.WORDS)
    of_its_end = (rule for end, rule in _BY_END.items() if name.endswith(end))
    return next(of_its_end, EntryRule(Shape.NUMBER))


def entries_of(tree: Tree, table: str) -> tuple[str, ...]:
    """The places of what can be set in a table: what it has, what ships, what a limit may have."""
    own, shipped = table_at(tree, table), table_at(shipped_tree(), table)
    top = table.partition(".")[0]
    names = dict.fromkeys([*own] if top in CHOSEN_BY_THE_UNIT else [*shipped, *own])
    if top == "limits":
        of_patient = own.get("band") == "patient"
        made_of = STRUCTURE if own else STRUCTURE - {"group"}  # a new limit is put under a cause
        names = dict.fromkeys(
            name
            for name in NAMES_OF_A_LIMIT
            if name not in made_of and not (of_patient and name in ("under", "over"))
        )
    elif top == "rules" and table != "rules.baseline":
        names = dict.fromkeys(["on", *names])
    first = [name for name in names if not name.endswith("source")]
    return tuple(f"{table}.{name}" for name in (*first, *(n for n in names if n not in first)))


def source_place(tree: Tree, where: str) -> str:
    """The place that says where a number comes from: its own source's, else its table's."""
    table, _, name = where.rpartition(".")
    names = [each for each in table_at(tree, table) if each.endswith("_source")]
    own = next((each for each in names if name.startswith(each.removesuffix("_source"))), "")
    return f"{table}.{own or 'source'}"


def can_be_limited(key: str) -> bool:
    """Whether a limit can be set for this key: a field with numbers, or an index that a row of the
    chart answers with one."""
    if key in FIELDS:
        return FIELDS[key].shape.value == "number"
    return key in CHARTED and not key.endswith("_class")


def limits_to_add(tree: Tree) -> tuple[str, ...]:
    """The keys for which a unit has set no limit and could."""
    held = table_at(tree, "limits")
    return tuple(key for key in (*FIELDS, *CHARTED) if key not in held and can_be_limited(key))


def bands_to_add(tree: Tree) -> tuple[str, ...]:
    """The fields whose steps a unit lists whatever they are, and could leave out up to a size."""
    held = table_at(tree, "noise")
    return tuple(key for key in FIELDS if key not in held and can_be_limited(key))
