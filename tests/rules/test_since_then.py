"""What is different since a moment: every kind once, with a key that stays the same."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest
from msgspec.structs import replace

from app.charting.event_facts import Event, PutRight
from app.charting.facts import (
    Airway,
    Assessment,
    BedStay,
    BodySize,
    CourseFacts,
    HandoffNote,
    Identity,
    Kind,
    Reading,
    State,
    Targets,
)
from app.charting.handing_over import HandoffStep, IfThen, Source, StepKind, Task, TaskState
from app.rules.since_then import What, differences, late_items

AT = datetime(2026, 11, 26, 0, 0, tzinfo=UTC)
WHO = Identity("p", "P-01", "LR-1", None, 54)


def reading(key: str, number: str) -> Reading:
    return Reading(key, "peep_set", AT, State.CHANGED, "Ash", AT, number=Decimal(number))


def row(key: str, peep: Reading, at: datetime = AT, **more) -> Assessment:
    return Assessment(key, Kind.FULL, at, at, "Ash", "ac_vc", {"peep_set": peep}, **more)


TASK = Task("t", "t", "Gas", AT, "", Source.PERSON, TaskState.OPEN, "", "Ash", "Ash", AT)
LINE = IfThen("i", "SpO2", "under", "88", "", "suction", "Dr Oak", None, "", "", "Ash", AT)
THEN = CourseFacts(
    course_id="c",
    unit_id="u",
    identity=WHO,
    support_started_at=AT,
    bed_stays=(BedStay(AT, "L2", "Ash"),),
    assessments=(row("1", reading("r1", "8")),),
    tasks=(TASK,),
    if_thens=(LINE,),
)
LATER = AT + timedelta(minutes=10)
TURN = Event("e", "prone", LATER, None, "Turned prone", "Ash")
PUT_RIGHT = PutRight(LATER, "Turned prone", "Ash", "wrong clock", "Birch", LATER, False, False)
NEW_ROW = row("2", reading("r2", "10"), LATER)


@pytest.mark.parametrize(
    ("now", "what"),
    [
        ({"assessments": (*THEN.assessments, NEW_ROW)}, What.NEW_ROW),
        ({"assessments": (row("1", reading("r9", "10")),)}, What.CORRECTED),
        ({"assessments": (row("1", reading("r1", "8"), struck="wrong patient"),)}, What.STRUCK),
        ({"bed_stays": (*THEN.bed_stays, BedStay(LATER, "L9", "Cedar"))}, What.MOVED),
        (
            {"airways": (Airway("ett_oral", observed_at=LATER, act="exchanged", author="A"),)},
            What.AIRWAY,
        ),
        ({"body_sizes": (BodySize(LATER, Decimal(158), "tape", "F", None, "Birch"),)}, What.BODY),
        ({"identity": replace(WHO, code_limits="comfort")}, What.IDENTITY),
        ({"targets": Targets(Decimal(88))}, What.ORDERS),
        ({"events": (Event("e", "prone", LATER, None, "Turned", "Ash"),)}, What.EVENT),
        ({"tasks": (replace(TASK, state=TaskState.DONE),)}, What.TASK),
        ({"if_thens": (LINE, replace(LINE, id="j"))}, What.IF_THEN),
        ({"if_thens": ()}, What.IF_THEN_GONE),
        ({"notes": (HandoffNote("gaps", "film old", LATER, "Ash"),)}, What.WORDS),
    ],
)
def test_each_kind_of_change_is_told_once(now, what):
    found = differences(THEN, replace(THEN, **now))
    assert [one.what for one in found] == [what]
    assert found == differences(THEN, replace(THEN, **now))


@pytest.mark.parametrize(
    ("now", "what", "by"),
    [
        ({"events": (replace(TURN, ended_at=LATER),)}, What.EVENT, "Ash"),
        ({"events": (replace(TURN, put_right=(PUT_RIGHT,)),)}, What.EVENT_CORRECTED, "Birch"),
        (
            {"struck_events": (replace(TURN, struck="wrong bed", struck_by="Birch"),)},
            What.EVENT_STRUCK,
            "Birch",
        ),
    ],
)
def test_what_became_of_an_event_is_told_by_who_did_it(now, what, by):
    then = replace(THEN, events=(TURN,))
    (found,) = differences(then, replace(THEN, **now))
    assert (found.what, found.author) == (what, by)
    reaches_back = what is not What.EVENT
    assert bool(late_items(then, replace(THEN, **now), LATER)) is reaches_back


def test_an_event_that_came_and_was_struck_meanwhile_is_no_news():
    struck = replace(TURN, struck="wrong bed", struck_by="Birch")
    assert differences(THEN, replace(THEN, struck_events=(struck,))) == ()


def test_without_a_change_there_is_nothing_to_see():
    assert differences(THEN, replace(THEN)) == ()


def test_a_row_of_the_same_second_is_not_lost():
    same = row("2", reading("r2", "10"), AT)
    assert len(differences(THEN, replace(THEN, assessments=(*THEN.assessments, same)))) == 1


def test_a_drafted_row_counts_once_it_is_signed():
    drafted = replace(THEN, assessments=(*THEN.assessments, replace(NEW_ROW, signed=False)))
    signed = replace(THEN, assessments=(*THEN.assessments, NEW_ROW))
    assert [one.what for one in differences(drafted, signed)] == [What.NEW_ROW]


def test_two_moves_there_and_back_are_both_told():
    stays = (*THEN.bed_stays, BedStay(LATER, "L9", "C"), BedStay(LATER, "L2", "C"))
    assert len(differences(THEN, replace(THEN, bed_stays=stays))) == 2


def test_what_the_next_shift_charts_is_not_late():
    now = replace(THEN, assessments=(*THEN.assessments, NEW_ROW))
    assert late_items(THEN, now, AT) == ()


@pytest.mark.parametrize(
    ("observed", "expected"),
    [(AT - timedelta(minutes=1), 1), (AT, 0), (AT + timedelta(minutes=1), 0)],
)
def test_a_row_observed_before_the_acceptance_is_late(observed, expected):
    late = row("2", reading("r2", "10"), observed)
    now = replace(THEN, assessments=(*THEN.assessments, late))
    assert len(late_items(THEN, now, AT)) == expected


def test_a_corrected_value_behind_an_acceptance_is_late():
    now = replace(THEN, assessments=(row("1", reading("r9", "10")),))
    assert [one.what for one in late_items(THEN, now, LATER)] == [What.CORRECTED]


def test_added_words_are_late():
    added = HandoffStep("9", StepKind.ADDED, LATER, "Ash", "a", words="outlet ticked")
    now = replace(THEN, handoffs=(added,))
    assert [one.what for one in late_items(THEN, now, AT)] == [What.ADDED]
