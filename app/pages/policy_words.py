"""What the tables and entries of a policy are called, and their values as a page writes them."""

from collections.abc import Mapping
from decimal import Decimal

from app.charting.fields import FIELDS
from app.charting.shown import signed
from app.pages.flag_words import GROUP_WORDS, label_of, series_unit
from app.pages.site_words import PLAIN
from app.physiology.catalogue import CATALOGUE
from app.rules.policy import GROUPS
from app.rules.policy_tree import Entry, Tree, table_at, tables_of
from app.rules.shares import as_written, share_of
from app.rules.watch.overdue import RULE as OVERDUE
from app.rules.watch.rule import Rule
from app.rules.watch.rules import RULES

_RULES: Mapping[str, Rule] = {rule.key: rule for rule in (*RULES, OVERDUE)}

SITE = "site"
SITE_HEADING = "The unit and its rounds"

_TABLES: Mapping[str, str] = {
    "patients": "Whom adult limits are for",
    "site": "The site",
    "course": "Days that are counted",
    "cylinders": "Oxygen cylinders",
    "rounds": "Rounds",
    "episodes": "Prone sessions, and screens for a breathing trial",
    "stale_h": "When a value is too old",
    "noise": "Steps that are not listed as changes",
    "rules.baseline": "A change by so much begins a patient's own level anew",
}
_ENTRIES: Mapping[str, tuple[str, str]] = {
    "title": ("Title", ""),
    "reason": ("Reason", ""),
    "adult_age_y": ("Adult from the age of", "years"),
    "barometric_mmhg": ("Barometric pressure", "mmHg"),
    "times": ("Clock times", ""),
    "late_after_min": ("Late after", "min"),
    "overdue_after_min": ("Overdue after", "min"),
    "ventilator_gap_days": ("Days off that begin the ventilator days anew", "days"),
    "fresh_tracheostomy_days": ("A tracheostomy is fresh for", "days"),
    "prone_h": ("A prone session is meant to last", "h"),
    "screen_every_h": ("A screen is due every, or 0 for none", "h"),
    "screen_fio2": ("The screen calls oxygen low enough up to FiO2", "%"),
    "screen_peep": ("The screen calls oxygen low enough up to PEEP", "cmH2O"),
    "reserve_psi": ("Held back", "psi"),
    "over": ("Outside over", ""),
    "under": ("Outside under", ""),
    "stale_h": ("Too old after", "h"),
    "essential": ("Without it the bed is not evaluable", ""),
    "group": ("Cause", ""),
    "band": ("Band", ""),
    "on": ("In use", ""),
    "count": ("Values that must show it", ""),
    "of": ("Of the last", "values"),
    "at_once_by": ("Or one value past the limit by more than", ""),
    "clear_count": ("Values in a row that clear it", ""),
    "clear_margin": ("To clear, inside the limit by", ""),
    "limit": ("The rule's own limit", ""),
    "twice": ("Change that the values must show", ""),
    "by": ("Change that the values must show", ""),
    "once": ("Change that one value alone must show", ""),
    "each": ("Change that each of them must show", ""),
    "clear": ("To clear, back to within", ""),
    "window_h": ("Compared with the last", "h"),
    "from_h": ("Compared with values older than", "h"),
    "least": ("Values needed to compare with", ""),
    "own_noise": ("At least so many times the patient's own scatter", ""),
    "beside_by": ("The series beside must have moved by", ""),
    "beside_h": ("The series beside is compared with its last", "h"),
    "hours": ("None for more than", "h"),
    "peep": ("PEEP by", "cmH2O"),
    "flow": ("Set flow by", "L/min"),
    "inspiratory_time": ("Inspiratory time by", "s"),
    "set_rate": ("Set rate by", "/min"),
    "source": ("Source", ""),
}
_IN_THE_SERIES = frozenset(
    {"twice", "once", "by", "each", "clear", "clear_margin", "at_once_by", "limit"}
)
"""Numbers of a rule that are in the unit of what it reads."""

_UNIT_BY_END = {"_h": "h", "_min": "min", "_d": "days", "_days": "days", "_y": "years"}
_UNIT_BY_END |= {"_hours": "h", "_psi": "psi", "_mmhg": "mmHg", "_cm": "cm", "_percent": "%"}


def table_heading(table: str) -> str:
    """What a table is about: a limit's field, a rule's sentence, or words of its own."""
    top, _, key = table.partition(".")
    if table in _TABLES:
        return _TABLES[table]
    if top == "limits":
        return f"Limit: {label_of(key)}"
    if top == "rules" and key in _RULES:
        return _RULES[key].sentence
    return _spaced(key or top)


def entry_words(where: str) -> tuple[str, str]:
    """What an entry is called, and its unit; empty for a pure number or a text."""
    table, _, name = where.rpartition(".")
    top, _, key = table.partition(".")
    if name == "source" or name.endswith("_source"):
        return "Source", ""
    if top == "noise" and name in FIELDS:
        return FIELDS[name].label, FIELDS[name].unit
    if top == "cylinders" and name not in _ENTRIES:
        return f"Letter {name}", "L for each psi"
    if top == "stale_h":
        return _spaced(name), "h"
    label, unit = _ENTRIES.get(name) or (_spaced(name), _unit_of_a_name(name))
    if top == "limits" and name in ("over", "under"):
        unit = FIELDS[key].unit if key in FIELDS else CATALOGUE[key].unit
    elif (share := share_of(where)) is not None:
        unit = share.unit
    elif top == "rules" and name in _IN_THE_SERIES and key in _RULES:
        unit = series_unit(_RULES[key].series, PLAIN)
    return label, unit


def unit_beside(value: str, unit: str) -> str:
    """The unit as it is said of this value: "1 day", "7 days"."""
    return unit.removesuffix("s") if value == "1" and unit in ("days", "years") else unit


def _unit_of_a_name(name: str) -> str:
    ends = (unit for end, unit in _UNIT_BY_END.items() if name.endswith(end))
    return next(ends, "")


def _spaced(name: str) -> str:
    return name.replace("_", " ").capitalize()


def value_words(value: Entry | None) -> str:
    """A value as it stands in a sentence."""
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Decimal):
        return signed(f"{value:f}")
    return ", ".join(map(str, value)) if isinstance(value, list) else str(value)


def entry_value(where: str, value: Entry | None) -> str:
    """The value of the entry in that place, a change against a level in percent of it."""
    return value_words(as_written(where, value))


def place_words(where: str) -> str:
    """An entry with its table: "Limit: Plateau pressure, outside over"."""
    table = where.rpartition(".")[0]
    label = entry_words(where)[0]
    if not table:
        return label
    return f"{table_heading(table).rstrip('.')}: {label[:1].lower()}{label[1:]}"


def sections_of(tree: Tree) -> tuple[tuple[str, str, tuple[str, ...]], ...]:
    """The tables by what they are about: an anchor, a heading and the tables' places."""
    places = tables_of(tree)
    fixed = tuple(p for p in places if "." not in p or p == "rules.baseline")
    by_group = [
        (group, GROUP_WORDS[group], tuple(p for p in places if _group_of(tree, p) == group))
        for group in GROUPS
    ]
    return ((SITE, SITE_HEADING, fixed), *by_group)


def _group_of(tree: Tree, table: str) -> str:
    top, _, key = table.partition(".")
    if top == "limits":
        return str(table_at(tree, table).get("group", ""))
    return _RULES[key].group if top == "rules" and key in _RULES else ""
