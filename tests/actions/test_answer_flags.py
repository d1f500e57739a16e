"""What is said of flags: it answers those that were seen, clears none, and ends by itself."""

from datetime import timedelta

import pytest
from msgspec.structs import replace

from app.actions.answer_flags import Answer, answer_flags
from app.actions.handoff_step import StepRefused
from app.charting.answering import Said
from app.rules.flags_now import GroupNow
from tests.actions.scene import Shift

HOUR = timedelta(hours=1)


def mechanics(shift: Shift, group: str = "mechanics") -> GroupNow | None:
    told = {each.group: each for each in shift.summary().flags_at(shift.clock())}
    return told.get(group)


def seen(group: GroupNow, **more) -> Answer:
    return Answer(group.group, Said.SEEN, group.rules, group.last_raised, "recheck at 12", **more)


def say(shift: Shift, answer: Answer, key: str = "") -> str:
    with shift.writing("ash") as writing:
        return answer_flags(writing, shift.ward.courses["L3"], answer, save_key=key)


@pytest.fixture
def flagged(shift: Shift) -> Shift:
    """Driving pressure 22, which is far enough over 15 to be a flag at once."""
    shift.chart("ash", plateau_pressure_obs="34", peak_inspiratory_pressure_obs="40")
    shift.clock.now += timedelta(minutes=5)
    return shift


def test_acknowledging_is_not_clearing(flagged: Shift):
    say(flagged, seen(mechanics(flagged), owner="night therapist"))
    after = mechanics(flagged)
    assert (after.unanswered(), after.seen.words, after.seen.author) == ((), "recheck at 12", "Ash")
    assert [told.flag.rule for told in after.flags] == ["driving_pressure_over"]


def test_values_clear_it_and_nothing_stays_to_be_said(flagged: Shift):
    say(flagged, seen(mechanics(flagged)))
    for _ in range(2):
        flagged.clock.now += HOUR
        flagged.chart("ash", plateau_pressure_obs="24")
    assert mechanics(flagged) is None


def test_what_is_raised_afterwards_is_not_acknowledged(flagged: Shift):
    say(flagged, seen(mechanics(flagged)))
    flagged.clock.now += HOUR
    flagged.chart("ash", plateau_pressure_obs="37", peak_inspiratory_pressure_obs="44")
    newer = [told.flag.rule for told in mechanics(flagged).unanswered()]
    assert newer == ["plateau_over"]


def test_an_answer_to_other_flags_than_those_that_stand_is_refused(flagged: Shift):
    before = mechanics(flagged)
    flagged.chart(
        "birch",
        at=flagged.clock() - timedelta(minutes=2),
        plateau_pressure_obs="37",
        peak_inspiratory_pressure_obs="44",
    )
    with pytest.raises(StepRefused, match="changed since this page"):
        say(flagged, seen(before))


def test_a_mute_ends_by_itself(flagged: Shift):
    group = mechanics(flagged)
    mute = replace(seen(group), said=Said.MUTED, words="chest closed at 14", lasting=2 * HOUR)
    say(flagged, mute)
    start = flagged.clock()
    muted = mechanics(flagged)
    moments = [start + 2 * HOUR - timedelta(seconds=1), start + 2 * HOUR]
    assert [muted.muted_until(at) is not None for at in moments] == [True, False]
    assert start + 2 * HOUR in set(flagged.summary().edges())


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"words": " "}, "Write the plan"),
        ({"said": Said.MUTED, "words": "x", "lasting": 13 * HOUR}, "at most 12 hours"),
        ({"said": Said.MUTED, "words": "x"}, "at most 12 hours"),
        ({"said": Said.MUTED, "words": "", "lasting": HOUR}, "why it is muted"),
        ({"group": "leak"}, "No flag of this cause"),
        ({"words": "x" * 141}, "at most 140"),
    ],
)
def test_what_cannot_be_kept_is_refused(flagged: Shift, changed: dict, why: str):
    with pytest.raises(StepRefused, match=why):
        say(flagged, replace(seen(mechanics(flagged)), **changed))
    assert flagged.facts().answers == ()


def test_safety_cannot_be_muted(flagged: Shift):
    flagged.clock.now += HOUR
    flagged.chart("ash", cuff_pressure_cmh2o="12")
    group = mechanics(flagged, "safety")
    with pytest.raises(StepRefused, match="cannot be muted"):
        say(flagged, replace(seen(group), said=Said.MUTED, lasting=HOUR))


def test_the_same_form_sent_twice_is_one_answer(flagged: Shift):
    answer = seen(mechanics(flagged))
    assert say(flagged, answer, "key") == say(flagged, answer, "key")
    assert len(flagged.facts().answers) == 1


def test_the_summary_of_an_answered_course_is_what_its_facts_give(flagged: Shift):
    say(flagged, seen(mechanics(flagged)))
    assert flagged.differences() == []
