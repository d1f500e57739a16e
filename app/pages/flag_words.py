"""A flag in words: what lies where, since when, which values raised it, and what was said of it."""

from collections.abc import Iterator, Mapping, Sequence
from datetime import datetime

from app.charting.answering import FlagAnswer
from app.charting.fields import FIELDS
from app.charting.shown import signed
from app.pages.site_words import SiteWords
from app.pages.times import clock_time
from app.physiology.catalogue import CATALOGUE
from app.rules.flags_now import FlagNow, GroupNow
from app.rules.unit_clock import UnitClock
from app.rules.watch.beyond import Beyond
from app.rules.watch.flags import Flag, Once
from app.rules.watch.rules import RULES

BASED_ON_CORRECTED = "based on a corrected value"
"""What stands beside every number, flag and handoff line that used one."""

GROUP_WORDS: Mapping[str, str] = {
    "mechanics": "Mechanics",
    "airway": "Airway resistance",
    "volume": "Volume",
    "leak": "Leak",
    "oxygenation": "Oxygenation",
    "drive": "Drive",
    "acid-base": "Acid-base",
    "safety": "Safety",
}
"""The causes by which flags are joined, as headings."""

_KEY_OF: Mapping[str, str] = {
    "plateau": "plateau_pressure_obs",
    "compliance": "compliance_static",
    "resistance": "airway_resistance",
    "fio2": "fio2_set",
    "peep": "peep_set",
    "sf": "sf_ratio",
    "rate": "resp_rate_obs",
    "cuff": "cuff_pressure_cmh2o",
}
"""Series that hold a field or an index under a name of their own."""

_OWN_WORDS: Mapping[str, tuple[str, str]] = {
    "vt_set_per_kg": ("Set volume per kg", "mL/kg"),
    "vt_measured_per_kg": ("Measured volume per kg", "mL/kg"),
    "vt_own_per_kg": ("Volume per kg of own breaths", "mL/kg"),
    "vt_over_order": ("Set volume above the ordered one", "mL/kg"),
    "compliance": ("Static compliance by set PEEP", "mL/cmH2O"),
    "compliance_both": ("Static and dynamic compliance together", "mL/cmH2O"),
    "peak_less_plateau": ("Peak less plateau", "cmH2O"),
    "leak": ("Leak of the set volume", "%"),
    "spo2_over_band": ("SpO2 above the ordered band by", "%"),
    "rate_open": ("Rate on mask or high flow", "/min"),
    "depth_moved": ("Tube mark moved by", "cm"),
    "depth_unexplained": ("Tube mark moved, with no reason given, by", "cm"),
}
"""Series that nobody charts as such: what they are called, and their unit."""

_OWN_NAMES: Mapping[str, str] = {"plateau_overdue": "Plateau overdue"}
"""What a finding without a value is called where its rule's sentence is long; its page has both."""

_RULES = {rule.key: rule for rule in RULES}


def label_of(key: str) -> str:
    """The reader's word for a field or an index."""
    return FIELDS[key].label if key in FIELDS else CATALOGUE[key].label


def with_site_unit(key: str, end: str, words: SiteWords) -> str:
    """An end of a limit with its unit, as the site writes it; any other text with the unit."""
    unit = words.fields[key].unit if key in FIELDS else CATALOGUE[key].unit
    return f"{words.text(key, end)} {unit}".strip()


def series_words(series: str) -> str:
    """What a series is called; empty where a finding has only its rule's sentence."""
    if series in _OWN_WORDS:
        return _OWN_WORDS[series][0]
    key = _KEY_OF.get(series, series)
    known = key in CATALOGUE or (key in FIELDS and not key.startswith("safe_"))
    return label_of(key) if known else ""


def series_unit(series: str, words: SiteWords) -> str:
    """The unit of a series as this site writes it."""
    if series in _OWN_WORDS:
        return _OWN_WORDS[series][1]
    key = _KEY_OF.get(series, series)
    if key in FIELDS:
        return words.fields[key].unit
    return CATALOGUE[key].unit if key in CATALOGUE else ""


def number(series: str, text: str, words: SiteWords) -> str:
    """A value of a series as this site writes it."""
    return signed(words.text(_KEY_OF.get(series, series), text))


def flag_words(told: FlagNow, now: datetime, clock: UnitClock, words: SiteWords) -> str:
    """One flag: "Driving pressure 18, over 15"; a finding is its rule's own sentence."""
    flag = told.flag
    label = series_words(flag.series)
    if not label or not flag.values:
        return _OWN_NAMES.get(flag.rule) or flag.sentence.rstrip(".")
    newest = number(flag.series, (told.newest or flag.values[-1]).shown, words)
    against = number(flag.series, flag.against, words)
    if flag.drift:
        return _drift_words(flag, label, newest, against, now, clock)
    side = f"at or {flag.side} {against}" if _inclusive(flag.rule) else f"{flag.side} {against}"
    ends = f", {side}" if flag.against.strip("0.") else ""  # "over 0" says nothing
    if _still_beyond(told):
        return f"{label} {newest}{ends}"
    raised = number(flag.series, flag.values[-1].shown, words)
    return f"{label} {newest} now, was {raised}{ends}"


def _drift_words(
    flag: Flag, label: str, newest: str, against: str, now: datetime, clock: UnitClock
) -> str:
    """A change against the level before; after a day it is spoken of as a level (decision 33)."""
    rising = flag.side == "over"
    level = flag.new_level_since(now)
    if level is not None:
        which = "higher" if rising else "lower"
        since = clock_time(level, now, clock)
        return f"{label}: {which} level since {since} ({against} → {newest})"
    return f"{label} {'rose' if rising else 'fell'} to {newest}, from {against}"


def _inclusive(rule: str) -> bool:
    known = _RULES.get(rule)
    return known is not None and isinstance(known.test, Beyond) and known.test.inclusive


def _still_beyond(told: FlagNow) -> bool:
    newest = told.newest or told.flag.values[-1]
    value, end = float(newest.shown), float(told.flag.against)
    past = value - end if told.flag.side == "over" else end - value
    return past >= 0 if _inclusive(told.flag.rule) else past > 0


def once_words(once: Once, words: SiteWords) -> str:
    """One value beyond a limit: "SpO2 86 once, under 88"."""
    label = series_words(once.series) or _RULES[once.rule].sentence.rstrip(".")
    value = number(once.series, once.value.shown, words)
    limit = number(once.series, once.limit, words)
    return f"{label} {value} once, {once.side} {limit}"


def values_words(flag: Flag, now: datetime, clock: UnitClock, words: SiteWords) -> str:
    """The values that raised it: "17 at 04:00, 18 at 08:10"."""
    if not series_words(flag.series):
        return ""
    return ", ".join(
        f"{number(flag.series, value.shown, words)} at {clock_time(value.at, now, clock)}"
        for value in flag.values
    )


def group_words(
    group: GroupNow,
    now: datetime,
    clock: UnitClock,
    words: SiteWords,
    *,
    brief: bool = False,
) -> tuple[str, str]:
    """A cause in one line and what stands behind it: the oldest flag first, then what is beside.

    `brief` is for a row of the board: without the values that raised it.
    """
    first, *others = _by_series(group.flags)
    since = f"since {clock_time(group.since, now, clock)}"
    detail = [since if brief else f"open {since}"]
    values = "" if brief else values_words(first.flag, now, clock, words)
    if values and len(first.flag.values) > 1:
        detail[0] += f": {values}"
    detail += [f"also {_lower(flag_words(each, now, clock, words))}" for each in others]
    if any(each.corrected for each in group.flags):
        detail.append(BASED_ON_CORRECTED)
    detail += answer_words(group, now, clock)
    return flag_words(first, now, clock, words), "; ".join(detail)


def _by_series(flags: Sequence[FlagNow]) -> list[FlagNow]:
    """One flag for each series: a limit before a drift, then the oldest."""
    chosen: dict[str, FlagNow] = {}
    for told in sorted(flags, key=lambda each: (each.flag.drift, each.flag.raised_at)):
        chosen.setdefault(told.flag.series, told)
    return list(chosen.values())


def _lower(words: str) -> str:
    """Inside a sentence; names such as SpO2 and PEEP keep their letters."""
    is_name = words[1:2].isupper() or words.startswith(("pH", "S/F", "FiO2", "PaO2", "SpO2"))
    return words if is_name else words[:1].lower() + words[1:]


def answer_words(group: GroupNow, now: datetime, clock: UnitClock) -> Iterator[str]:
    """What was said of it, and what was raised since nobody spoke."""
    until = group.muted_until(now)
    if until is not None and group.mute is not None:
        by = f"{group.mute.author}: {group.mute.words}"
        yield f"muted until {clock_time(until, now, clock)} by {by}"
    if group.seen is not None:
        yield seen_words(group.seen, now, clock)
        newer = group.unanswered()
        if newer:
            raised = clock_time(max(each.last_raised for each in newer), now, clock)
            yield f"raised again at {raised}, not acknowledged since"


def seen_words(answer: FlagAnswer, now: datetime, clock: UnitClock) -> str:
    """ "acknowledged 08:20 by Ash: recheck at 12:00; owner night therapist"."""
    owner = f" (owner {answer.owner})" if answer.owner else ""
    at = clock_time(answer.at, now, clock)
    return f"acknowledged {at} by {answer.author}: {answer.words}{owner}"
