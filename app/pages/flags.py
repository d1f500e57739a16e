"""Build the page that opens the flags of one cause: rule, values, limit, source, history."""

from collections.abc import Iterator, Sequence
from datetime import datetime

from msgspec import Struct

from app.charting.answering import LONGEST_PLAN, FlagAnswer, Said
from app.pages.flag_words import (
    BASED_ON_CORRECTED,
    GROUP_WORDS,
    answer_words,
    flag_words,
    number,
    seen_words,
    series_unit,
    series_words,
    values_words,
)
from app.pages.flags_page import AnswerForm, FlagLine, FlagsPage, HistoryLine
from app.pages.frame import Frame
from app.pages.known import Known
from app.pages.muted_words import muted_words
from app.pages.shown import Tone
from app.pages.times import clock_time, iso, when_in
from app.pages.worries import NO_FLAG
from app.rules.flags_now import SAFETY, FlagNow, GroupNow
from app.rules.uncorrected import ByCorrection
from app.rules.watch.flags import Flag

CAUTION = "A flag compares charted values with what this unit set. It is no alarm and no diagnosis."


class Answering(Struct, frozen=True):
    """Who may answer, and what their form brings back. `owner` is who they are."""

    save_key: str
    owner: str


def flags_page(
    frame: Frame,
    course: Known,
    group: str,
    flags: Sequence[Flag],
    by_correction: ByCorrection,
    answering: Answering | None,
    error: str = "",
) -> FlagsPage:
    """The cause `group` of one course; `flags` are all of the course, cleared ones among them.

    `error` says why an answer was not kept.
    """
    stands = {each.group: each for each in course.summary.flags_at(course.now)}.get(group)
    base = f"/courses/{course.facts.course_id}"
    of_it = [flag for flag in flags if flag.group == group]
    return FlagsPage(
        frame=frame,
        banner=course.banner,
        heading=f"Flags: {GROUP_WORDS[group].lower()}",
        open=tuple(_open(stands, course, by_correction)) if stands else (),
        quiet_words="" if stands else _quiet(course),
        said=tuple(map(capital, answer_words(stands, course.now, course.clock))) if stands else (),
        history=_history(of_it, group, course, by_correction),
        form=_form(stands, base, answering, course.now) if stands and answering else None,
        caution=CAUTION,
        back_href=base,
        error=error,
    )


def _quiet(course: Known) -> str:
    muted = course.summary.muted
    if muted is not None:
        return muted_words(muted, course.now, course.clock)
    return f"{NO_FLAG} of this cause"


def _open(group: GroupNow, course: Known, corrected: ByCorrection) -> Iterator[FlagLine]:
    unanswered = {told.flag.rule for told in group.unanswered()}
    for told in group.flags:
        flag = told.flag
        yield FlagLine(
            words=flag_words(told, course.now, course.clock, course.words),
            tone=Tone.FLAG if flag.rule in unanswered else Tone.SEEN,
            sentence=flag.sentence,
            values=values_words(flag, course.now, course.clock, course.words),
            since=when_in(flag.raised_at, course.now, course.clock),
            against=_against(flag, course),
            source=flag.source,
            policy_words=f"Raised under {course.policy.title}, version {flag.policy_version}",
            would_clear=f"Cleared by {flag.would_clear}; age clears nothing.",
            notes=tuple(_notes(told, course, corrected)),
        )


def _against(flag: Flag, course: Known) -> str:
    """The limit or the level, with its unit; a finding is held against nothing."""
    if not series_words(flag.series) or not flag.values:
        return ""
    what = "Level before" if flag.drift else f"Limit, {flag.side}"
    unit = series_unit(flag.series, course.words)
    return f"{what} {number(flag.series, flag.against, course.words)} {unit}".rstrip()


def _notes(told: FlagNow, course: Known, corrected: ByCorrection) -> Iterator[str]:
    now, clock = course.now, course.clock
    for moment in told.flag.reopened_at:
        yield f"Came back at {clock_time(moment, now, clock)}: the same flag, with its age"
    if told.corrected:
        yield capital(BASED_ON_CORRECTED)
    if corrected.did_raise(told.flag) and corrected.at is not None:
        yield f"Raised because of the correction at {clock_time(corrected.at, now, clock)}"


def _history(
    flags: Sequence[Flag], group: str, course: Known, corrected: ByCorrection
) -> tuple[HistoryLine, ...]:
    """Newest first: raised, cleared, back again, and what people said."""
    events = [event for flag in flags for event in _of_flag(flag, course, corrected)]
    events += [_said(each, course) for each in course.facts.answers if each.group == group]
    if corrected.at is not None:
        events += [
            (corrected.at, f"{_rule(flag, course)} no longer stands: because of a correction", "")
            for flag in corrected.gone
            if flag.group == group
        ]
    events = sorted(dict.fromkeys(events), key=lambda event: event[0], reverse=True)
    return tuple(
        HistoryLine(when_in(at, course.now, course.clock), words, by) for at, words, by in events
    )


_Event = tuple[datetime, str, str]


def _of_flag(flag: Flag, course: Known, corrected: ByCorrection) -> Iterator[_Event]:
    if flag.raised_at > course.now:
        return
    rule, values = _rule(flag, course), values_words(flag, course.now, course.clock, course.words)
    because = ""
    if corrected.did_raise(flag) and corrected.at is not None:
        at = clock_time(corrected.at, course.now, course.clock)
        because = f", because of the correction at {at}"
    yield flag.raised_at, f"Raised: {rule}{f' ({values})' if values else ''}{because}", ""
    for moment in flag.reopened_at:
        yield moment, f"Came back: {rule}", ""
    if flag.cleared_at is not None:
        why = f": {flag.ended_by}" if flag.ended_by else " by its values"
        yield flag.cleared_at, f"Cleared{why}: {rule}", ""


def _rule(flag: Flag, course: Known) -> str:
    label = series_words(flag.series)
    if not label or not flag.values:
        return flag.sentence.rstrip(".")
    against = number(flag.series, flag.against, course.words)
    if flag.drift:
        return f"{label} {'rose' if flag.side == 'over' else 'fell'} from {against}"
    return f"{label} {flag.side} {against}"


def _said(answer: FlagAnswer, course: Known) -> _Event:
    now, clock = course.now, course.clock
    if answer.said is Said.SEEN:
        return answer.at, capital(seen_words(answer, now, clock)), ""
    if answer.until is None:
        return answer.at, "No longer muted", answer.author
    until = clock_time(answer.until, now, clock)
    return answer.at, f"Muted until {until}: {answer.words}", answer.author


def _form(group: GroupNow, base: str, answering: Answering, now: datetime) -> AnswerForm:
    return AnswerForm(
        action=f"{base}/flags/{group.group}",
        save_key=answering.save_key,
        rules=" ".join(group.rules),
        raised=iso_exact(group.last_raised),
        owner=answering.owner,
        may_mute=group.group != SAFETY,
        is_muted=group.muted_until(now) is not None,
        longest=LONGEST_PLAN,
    )


def capital(words: str) -> str:
    """The words as a sentence begins; names inside keep their letters."""
    return words[:1].upper() + words[1:]


def iso_exact(moment: datetime) -> str:
    """The moment for a form that has to bring it back unchanged."""
    return moment.isoformat() if moment.microsecond else iso(moment)
