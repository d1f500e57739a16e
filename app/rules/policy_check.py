"""What is wrong with a policy that somebody means to put in force, every entry of it, in words.

`read_policy` reads what is kept, old versions among it; an editor's text has to stand this as well.
"""

import re
from collections.abc import Iterator, Mapping
from datetime import time
from decimal import Decimal
from typing import Any

from msgspec import Struct

from app.charting.fields import FIELDS
from app.rules.policy import GROUPS, Policy, read_policy
from app.rules.policy_error import PolicyError
from app.rules.policy_fields import (
    LONGEST_WORDS,
    NAMES_OF_A_LIMIT,
    EntryRule,
    Shape,
    can_be_limited,
    entry_rule,
    source_place,
)
from app.rules.policy_tree import (
    CHOSEN_BY_THE_UNIT,
    Tree,
    completed,
    flat,
    shipped_tree,
    table_at,
    tree_of,
)
from app.rules.shares import as_written

_LETTER = re.compile(r"[A-Za-z0-9_-]{1,16}")

PER_PATIENT = ("spo2",)
"""Limits that may be a band ordered for each patient."""


class Problem(Struct, frozen=True):
    """One entry that cannot stand, and why."""

    where: str
    what: str


class PolicyRefused(ValueError):  # noqa: N818 - it names a state that a page has words for
    """The policy cannot be put in force; `problems` says why, entry by entry."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("; ".join(f"{each.where}: {each.what}" for each in problems))
        self.problems = problems


def read_strictly(text: str, version: int = 0) -> Policy:
    """The policy of an editor's text. Raises PolicyRefused with all that is wrong with it."""
    try:
        found = problems(tree_of(text))
        if not found:
            return read_policy(text, version)
    except PolicyError as error:
        found = (Problem(error.where, error.what),)
    raise PolicyRefused(found)


def problems(tree: Tree) -> tuple[Problem, ...]:
    """All that is wrong with a policy, in the order of its entries; nothing for one that stands."""
    for look in (_misplaced, _missing, _entries, _together):  # each stands on the one before
        if found := tuple(look(tree)):
            return found
    return ()


def _misplaced(tree: Tree) -> Iterator[Problem]:
    """Names that no policy has, and entries where a table belongs or the other way round."""
    for name, value in tree.items():
        shipped = shipped_tree().get(name)
        if shipped is None:
            yield Problem(name, f"no part of a policy has this name; there are {_names()}")
        elif isinstance(shipped, dict) is not isinstance(value, dict):
            what = "must be a table" if isinstance(shipped, dict) else "must be a text"
            yield Problem(name, what)
        elif isinstance(shipped, dict):
            yield from _in_table(name, value, shipped)


def _names() -> str:
    return ", ".join(shipped_tree())


def _in_table(name: str, table: Tree, shipped: Tree) -> Iterator[Problem]:
    for key, value in table.items():
        where = f"{name}.{key}"
        if name in ("limits", "rules"):
            yield from _inner(name, where, key, value)
        elif isinstance(value, dict):
            yield Problem(where, "a table has no place here")
        elif name == "cylinders" and not _LETTER.fullmatch(key):
            yield Problem(where, "names a cylinder by a few letters and digits")
        elif name == "noise" and key != "source" and not _is_a_number_field(key):
            yield Problem(where, "no field that takes a number has this name")
        elif name not in CHOSEN_BY_THE_UNIT and key not in shipped:
            yield Problem(where, f"no entry has this name; there are {', '.join(shipped)}")


def _is_a_number_field(key: str) -> bool:
    return key in FIELDS and can_be_limited(key)


def _inner(name: str, where: str, key: str, table: object) -> Iterator[Problem]:
    if name == "rules":
        known = [*shipped_tree()["rules"].get(key, {}), "on"]
        if key not in shipped_tree()["rules"]:
            yield Problem(where, "no rule has this name")
            return
    else:
        known = list(NAMES_OF_A_LIMIT)
        if not can_be_limited(key):
            yield Problem(where, "no field with numbers and no index has this name")
            return
    if not isinstance(table, dict):
        yield Problem(where, "must be a table with its `source`")
        return
    for each, value in table.items():
        if each not in known:
            yield Problem(
                f"{where}.{each}", f"no entry has this name; there are {', '.join(known)}"
            )
        elif isinstance(value, dict):
            yield Problem(f"{where}.{each}", "a table has no place here")


def _missing(tree: Tree) -> Iterator[Problem]:
    """Tables and entries that a policy needs; a rule left out whole is judged as it ships."""
    for name, shipped in shipped_tree().items():
        if name in ("reason", "rules", "cylinders"):  # the reason is given when it is adopted
            continue
        if name not in tree:
            yield Problem(name, "is missing")
        elif isinstance(shipped, dict) and name not in CHOSEN_BY_THE_UNIT:
            for key, value in shipped.items():
                if key not in tree[name]:
                    yield Problem(f"{name}.{key}", f"is missing; what ships has {_said(value)}")
    for key, table in tree.get("limits", {}).items():
        for each in ("group", "stale_h", "source"):
            if isinstance(table, dict) and each not in table:
                yield Problem(f"limits.{key}.{each}", "is missing")


def _said(value: object) -> str:
    return ", ".join(value) if isinstance(value, list) else str(value)


def _entries(tree: Tree) -> Iterator[Problem]:
    """Each entry by itself."""
    for where, value in flat(tree).items():
        if where.endswith(".group"):
            if value not in GROUPS:
                yield Problem(where, f"must be one of {', '.join(GROUPS)}")
        elif where.endswith(".band"):
            if value != "patient" or where.split(".")[1] not in PER_PATIENT:
                yield Problem(where, f'only {", ".join(PER_PATIENT)} may have band = "patient"')
        else:
            what = wrong_with(entry_rule(where), value)
            if what:
                yield Problem(where, what)
    yield from _sources(tree)


def _sources(tree: Tree) -> Iterator[Problem]:
    """A number without a source is nobody's."""
    seen: set[str] = set()
    for where, value in flat(tree).items():
        if isinstance(value, bool | str) or "." not in where:
            continue
        place = source_place(tree, where)
        table, _, name = place.rpartition(".")
        if place not in seen and name not in table_at(tree, table):
            seen.add(place)
            yield Problem(place, "says where the numbers come from; it is missing")


def wrong_with(rule: EntryRule, value: object) -> str:
    """Why an entry cannot be that; empty where it can."""
    match rule.shape:
        case Shape.YES_NO:
            return "" if isinstance(value, bool) else "must be true or false"
        case Shape.WORDS:
            return _wrong_words(value)
        case Shape.TIMES:
            return _wrong_times(value)
    return _wrong_number(rule, value)


def _wrong_words(value: object) -> str:
    if not isinstance(value, str) or not value.strip():
        return "must be a text in words"
    return f"has more than {LONGEST_WORDS} letters" if len(value) > LONGEST_WORDS else ""


def _wrong_times(value: object) -> str:
    if not isinstance(value, list) or not value:
        return "needs at least one clock time"
    for each in value:
        if not (isinstance(each, str) and len(each) == len("03:30") and _is_time(each)):
            return f'{each} is no clock time such as "03:30"'
    return "has the same time twice" if len(set(value)) < len(value) else ""


def _is_time(text: str) -> bool:
    try:
        time.fromisoformat(text)
    except ValueError:
        return False
    return True


def _wrong_number(rule: EntryRule, value: object) -> str:
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        return "must be a number"
    number = Decimal(value)
    if not number.is_finite():
        return "must be a finite number"
    if rule.shape is Shape.WHOLE and number != number.to_integral_value():
        return "must be a whole number"
    if not rule.low <= number <= rule.high:
        return f"must lie between {rule.low:f} and {rule.high:f}"
    # What is typed is compared as it stands; a longer tail would be a slip or a formula.
    exponent = number.as_tuple().exponent
    return "has more than four decimals" if isinstance(exponent, int) and exponent < -4 else ""


def _together(tree: Tree) -> Iterator[Problem]:
    """Entries that contradict each other."""
    rounds = tree["rounds"]
    if rounds["overdue_after_min"] < rounds["late_after_min"]:
        yield Problem("rounds.overdue_after_min", "must not come before late_after_min")
    if "cylinders" in tree and "reserve_psi" not in tree["cylinders"]:
        yield Problem("cylinders.reserve_psi", "is missing")
    for key, limit in tree["limits"].items():
        yield from _ends(f"limits.{key}", limit)
    for key, figures in completed(tree)["rules"].items():
        yield from _figures(f"rules.{key}", figures)


def _ends(where: str, limit: Mapping[str, Any]) -> Iterator[Problem]:
    under, over = limit.get("under"), limit.get("over")
    if limit.get("band") == "patient":
        if under is not None or over is not None:
            yield Problem(where, "is a band ordered for each patient: it has no ends of its own")
    elif under is None and over is None:
        yield Problem(f"{where}.over", "needs `over`, `under` or both")
    elif under is not None and over is not None and under >= over:
        yield Problem(f"{where}.under", "must be smaller than `over`")


_NOT_OVER = (
    ("count", "of", "cannot be more than the values it is counted of"),
    ("from_h", "window_h", "must not be longer than the window"),
    ("twice", "once", "must not be more than what one value alone must show"),
    ("each", "twice", "must not be more than what the values together must show"),
    ("clear", "twice", "must not be more than the change that raises it"),
    ("clear", "by", "must not be more than the change that raises it"),
)
"""Of a rule: a number, the one that it must not exceed, and why."""


def _figures(where: str, figures: Mapping[str, Any]) -> Iterator[Problem]:
    for smaller, larger, what in _NOT_OVER:
        if smaller in figures and larger in figures and figures[smaller] > figures[larger]:
            most = as_written(f"{where}.{larger}", figures[larger])
            yield Problem(f"{where}.{smaller}", f"{what} ({most})")
