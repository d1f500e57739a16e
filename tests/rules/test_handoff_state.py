"""Who has the bed follows acceptance and nothing else, whatever is tried in whatever order."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.charting.handing_over import HandoffStep, StepKind
from app.rules.handoff_state import (
    NOBODY_CAME,
    Handoff,
    Person,
    Standing,
    handoff_of,
    may_step,
    why_not,
)

ASH, BIRCH = Person("a", "Ash"), Person("b", "Birch")
CEDAR = Person("c", "Cedar", leads=True)
PEOPLE = (ASH, BIRCH, CEDAR)
START = datetime(2026, 11, 26, 0, 0, tzinfo=UTC)
MOVES = (StepKind.ACCEPTED, StepKind.TAKEN)


def step(kind: StepKind, by: Person, steps=(), *, to: Person | None = None, at=START):
    """The row that the action would write after `steps`."""
    before = handoff_of(steps)
    giver = before.holder.id or by.id if kind is StepKind.OFFERED else before.offerer_id
    return HandoffStep(
        id=f"{len(steps):04}",
        kind=kind,
        at=at,
        author=by.name,
        author_id=by.id,
        from_id=giver,
        from_name=next((one.name for one in PEOPLE if one.id == giver), ""),
        to_id=to.id if to else "",
        to_name=to.name if to else "",
        version=before.versions + (kind is StepKind.OFFERED),
    )


def after(*acts) -> list[HandoffStep]:
    """Steps written one after the other, legal or not."""
    steps: list[HandoffStep] = []
    for kind, by, *to in acts:
        steps.append(step(kind, by, steps, to=to[0] if to else None))
    return steps


def now(*acts) -> Handoff:
    return handoff_of(after(*acts))


def test_without_a_step_nobody_has_the_bed():
    assert (now().standing, now().holder.id) == (Standing.DRAFT, "")


def test_an_offer_leaves_the_bed_where_it_is():
    told = now((StepKind.TAKEN, ASH), (StepKind.OFFERED, ASH, BIRCH))
    assert (told.standing, told.holder) == (Standing.OFFERED, ASH)


def test_an_acceptance_moves_it():
    told = now((StepKind.TAKEN, ASH), (StepKind.OFFERED, ASH, BIRCH), (StepKind.ACCEPTED, BIRCH))
    assert (told.standing, told.holder) == (Standing.ACCEPTED, BIRCH)


def test_a_question_and_its_answer_leave_the_same_offer_standing():
    acts = ((StepKind.OFFERED, ASH, BIRCH), (StepKind.RETURNED, BIRCH), (StepKind.ANSWERED, ASH))
    told = now(*acts)
    assert (told.standing, told.offer.version) == (Standing.OFFERED, 1)


def test_a_new_offer_has_the_next_number_even_after_one_was_taken_back():
    told = now((StepKind.OFFERED, ASH), (StepKind.WITHDRAWN, ASH), (StepKind.OFFERED, ASH))
    assert (told.versions, told.offer.version) == (2, 2)


OFFERED = after((StepKind.TAKEN, ASH), (StepKind.OFFERED, ASH, BIRCH))
ANYBODY = after((StepKind.TAKEN, ASH), (StepKind.OFFERED, ASH))
RETURNED = [*OFFERED, step(StepKind.RETURNED, BIRCH, OFFERED)]


@pytest.mark.parametrize(
    ("kind", "steps", "person", "expected"),
    [
        (StepKind.OFFERED, OFFERED, ASH, True),
        (StepKind.OFFERED, OFFERED, CEDAR, True),
        (StepKind.OFFERED, OFFERED, BIRCH, False),
        (StepKind.ACCEPTED, OFFERED, BIRCH, True),
        (StepKind.ACCEPTED, OFFERED, ASH, False),
        (StepKind.ACCEPTED, OFFERED, CEDAR, False),
        (StepKind.ACCEPTED, ANYBODY, BIRCH, True),
        (StepKind.ACCEPTED, ANYBODY, CEDAR, True),
        (StepKind.ACCEPTED, ANYBODY, ASH, False),
        (StepKind.ACCEPTED, RETURNED, BIRCH, False),
        (StepKind.ACCEPTED, [], BIRCH, False),
        (StepKind.RETURNED, OFFERED, BIRCH, True),
        (StepKind.RETURNED, RETURNED, BIRCH, False),
        (StepKind.ANSWERED, RETURNED, ASH, True),
        (StepKind.ANSWERED, RETURNED, CEDAR, True),
        (StepKind.ANSWERED, RETURNED, BIRCH, False),
        (StepKind.ANSWERED, OFFERED, ASH, False),
        (StepKind.WITHDRAWN, OFFERED, ASH, True),
        (StepKind.WITHDRAWN, OFFERED, BIRCH, False),
        (StepKind.WITHDRAWN, [], ASH, False),
        (StepKind.TAKEN, [], ASH, True),
        (StepKind.TAKEN, after((StepKind.TAKEN, ASH)), CEDAR, False),
        (StepKind.ADDED, [], ASH, False),
        (StepKind.ADDED, OFFERED, BIRCH, True),
    ],
)
def test_each_step_is_open_to_whom_it_belongs(kind, steps, person, expected):
    assert may_step(kind, handoff_of(steps), person, START) is expected


@pytest.mark.parametrize(
    ("waited", "expected"),
    [(timedelta(minutes=29), False), (NOBODY_CAME, True), (timedelta(minutes=31), True)],
)
def test_a_lead_takes_a_bed_over_that_nobody_came_for_in_half_an_hour(waited, expected):
    assert may_step(StepKind.TAKEN, handoff_of(OFFERED), CEDAR, START + waited) is expected


def test_a_therapist_never_takes_over_an_offered_bed():
    assert why_not(StepKind.TAKEN, handoff_of(OFFERED), BIRCH, START + NOBODY_CAME)


ATTEMPTS = st.lists(
    st.tuples(
        st.sampled_from(list(StepKind)),
        st.sampled_from(PEOPLE),
        st.sampled_from((None, *PEOPLE)),
        st.integers(0, 40),
    ),
    max_size=40,
)


@given(ATTEMPTS)
def test_whatever_is_tried_the_bed_is_with_whoever_took_it_last(attempts):
    steps: list[HandoffStep] = []
    at, last = START, ""
    for kind, person, to, minutes in attempts:
        at += timedelta(minutes=minutes)
        before = handoff_of(steps)
        if why_not(kind, before, person, at):
            continue
        steps.append(step(kind, person, steps, to=to, at=at))
        told = handoff_of(steps)
        if kind in MOVES:
            last = person.id
        assert told.holder.id == last
        assert (told.offer is None) == (told.standing in (Standing.DRAFT, Standing.ACCEPTED))
        assert kind is not StepKind.ACCEPTED or before.offer.from_id != person.id
