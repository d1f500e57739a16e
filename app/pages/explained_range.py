"""The range that a value is judged by, in words: its ends, the verdict, the source, the policy."""

from datetime import datetime

from app.charting.event_facts import Event
from app.charting.shown import signed
from app.charting.unit_words import spelled
from app.pages.explained_page import RangeJudged
from app.pages.known import Known
from app.pages.shown import Shown
from app.pages.times import clock_time
from app.pages.values import as_number
from app.pages.worries import ADULT_OFF
from app.rules.muted import muted_at
from app.rules.policy import Limit
from app.rules.standing import Verdict

NO_RANGE = "This unit has set no range for it."


def range_of(key: str, unit: str, shown: Shown, course: Known, at: datetime) -> RangeJudged:
    """What this unit set for the key at the value's moment, and where the shown value lies
    against it (decisions 3 and 13)."""
    policy = course.policy_at(at)
    policy_words = f"Judged by {policy.words}"
    held = policy.limits.get(key)
    limit = None if held is None else course.words.limit(held)
    if limit is None:
        return RangeJudged(NO_RANGE, "", "", policy_words)
    if not course.adult_at(at):
        return RangeJudged(ADULT_OFF, "", limit.source, policy_words)
    quiet = muted_at(course.facts, at)
    if quiet is not None:
        return RangeJudged(_muted(quiet, course), "", "", policy_words)
    if limit.of_patient:
        return _ordered_band(limit, unit, shown, course, policy_words)
    whose = "this patient's own range" if limit.ordered_by else "the range this unit set"
    words = f"{_ends(limit)} {unit}".rstrip() + f" is outside {whose}."
    verdict = _verdict(shown) + _as_information(key, shown, course)
    return RangeJudged(_capital(words), verdict, limit.source, policy_words)


def _muted(quiet: Event, course: Known) -> str:
    """ "Quiet since 14:05, until 18:00: nothing is judged"."""
    since = clock_time(quiet.observed_at, course.now, course.clock)
    until = quiet.ended_at
    to = f", until {clock_time(until, course.now, course.clock)}" if until is not None else ""
    return f"Quiet since {since}{to}: limits are muted, and nothing seen then is judged."


def _ends(limit: Limit) -> str:
    ends = [("under", limit.under), ("over", limit.over)]
    return " or ".join(f"{side} {signed(spelled(end))}" for side, end in ends if end is not None)


def _verdict(shown: Shown) -> str:
    if not shown.text:
        return "There is no value to judge."
    if not shown.beyond:
        return f"{shown.text} is not outside it, as displayed."
    how_often = "once" if shown.once else "more than once in a row"
    return f"{shown.text} is {shown.word}, {how_often}."


def _as_information(key: str, shown: Shown, course: Known) -> str:
    """A volume on the patient's own breaths is told, and raises no flag (decision 24)."""
    told = course.statements.get(key)
    noted = told is not None and told.verdict is Verdict.NOTED and shown.beyond
    return " On own breaths this is told as information and raises no flag." if noted else ""


def _ordered_band(
    limit: Limit, unit: str, shown: Shown, course: Known, policy_words: str
) -> RangeJudged:
    """A band ordered for this patient; its upper end is told, not judged (decision 27)."""
    targets = course.facts.targets
    low, high, value = targets.spo2_low, targets.spo2_high, as_number(shown.text)
    if low is None:
        words = "No band is ordered for this patient, so it cannot be judged."
        return RangeJudged(words, "", limit.source, policy_words)
    upper = f" to {spelled(high)}" if high is not None else ""
    at = targets.ordered_at
    when = f", {clock_time(at, course.now, course.clock)}" if at is not None else ""
    by = f", ordered by {targets.ordered_by}{when}" if targets.ordered_by else ""
    words = f"{spelled(low)}{upper} {unit}{by}. Under {spelled(low)} is outside it."
    if value is None:
        return RangeJudged(words, "There is no value to judge.", limit.source, policy_words)
    verdict = f"under {spelled(low)}" if value < low else f"not under {spelled(low)}"
    return RangeJudged(words, f"{shown.text} is {verdict}.", limit.source, policy_words)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
