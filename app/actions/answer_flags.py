"""Say that the open flags of a cause were seen, with a plan and an owner; mute them for a while.

Neither clears anything: values do. What was raised since somebody opened the page is not answered.
"""

import json
from collections.abc import Mapping
from datetime import datetime, timedelta

from msgspec import Struct
from msgspec.structs import asdict

from app.actions.handoff_step import StepRefused, worded
from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.charting.answering import LONGEST_PLAN, Said
from app.record.courses import course_facts
from app.record.judging import judging
from app.record.tables import FlagAnswerRow
from app.record.writing import Writing
from app.rules.bed_summary import summarise
from app.rules.flags_now import SAFETY, GroupNow

LONGEST_MUTE = timedelta(hours=12)
"""A mute ends by itself within one shift (engineering judgement)."""

ACTS: Mapping[Said, str] = {
    Said.SEEN: "acknowledge_flags",
    Said.MUTED: "mute_flags",
    Said.UNMUTED: "unmute_flags",
}
_WANTED: Mapping[Said, str] = {
    Said.SEEN: "the plan, in a few words",
    Said.MUTED: "why it is muted",
}


class Answer(Struct, frozen=True):
    """What somebody says of the open flags of `group`, having seen `rules` and `last_raised`.

    `words` is the plan or the reason; `owner` whose the plan is; `lasting` how long a mute holds.
    """

    group: str
    said: Said
    rules: tuple[str, ...]
    last_raised: datetime
    words: str = ""
    owner: str = ""
    lasting: timedelta | None = None


def answer_flags(writing: Writing, course_id: str, answer: Answer, *, save_key: str = "") -> str:
    """Keep the answer; returns its id. Raises NotFound.

    Raises StepRefused without words, for a mute that is too long or of the safety group, and when
    other flags stand open now than those that the person had before them.
    """
    content = asdict(answer)
    done = did_before(writing, course_id, save_key, content)
    if done is not None:
        return done
    group = _as_seen(writing, course_id, answer)
    row = FlagAnswerRow(
        course_id=course_id,
        cause=answer.group,
        said=answer.said.value,
        answers_at=group.last_raised,
        rules=json.dumps(group.rules),
        words=_words(answer),
        owner=_short(answer.owner.strip()),
        muted_until=_until(answer, writing.recorded_at),
    )
    writing.add_as(ACTS[answer.said], row, course_id=course_id)
    refresh_summary(writing, course_id)
    keep_sent(writing, course_id, save_key, content, row.id)
    return row.id


def _as_seen(writing: Writing, course_id: str, answer: Answer) -> GroupNow:
    """The open flags of the cause, which must be those that were seen."""
    facts = course_facts(writing.session, course_id)
    judge = judging(writing.session, facts.unit_id, writing.recorded_at).of(facts)
    summary = summarise(facts, judge.policy, judge.clock, judge.watching)
    standing = {group.group: group for group in summary.flags_at(writing.recorded_at)}
    group = standing.get(answer.group)
    if group is None or facts.ended_at is not None:
        raise StepRefused("No flag of this cause is open any more; nothing was saved.")
    if set(group.rules) != set(answer.rules) or group.last_raised != answer.last_raised:
        raise StepRefused("The flags changed since this page was opened. Look at them again.")
    return group


def _words(answer: Answer) -> str:
    wanted = _WANTED.get(answer.said)
    return _short(worded(answer.words, wanted) if wanted else answer.words.strip())


def _short(words: str) -> str:
    if len(words) > LONGEST_PLAN:
        raise StepRefused(f"Write it in at most {LONGEST_PLAN} characters.")
    return words


def _until(answer: Answer, now: datetime) -> datetime | None:
    if answer.said is not Said.MUTED:
        return None
    if answer.group == SAFETY:
        raise StepRefused("What is told as safety cannot be muted, only acknowledged.")
    if answer.lasting is None or not timedelta(0) < answer.lasting <= LONGEST_MUTE:
        raise StepRefused("Choose for how long, at most 12 hours.")
    return now + answer.lasting
