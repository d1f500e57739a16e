"""What is kept of courses is one thing each, bounded, and never in two hands while it changes."""

import sys
from concurrent.futures import ThreadPoolExecutor
from threading import Lock

import pytest

from app.charting.kept import Kept

COURSES = ("one", "two", "three")


@pytest.fixture
def kept() -> Kept[str]:
    """Room for two of the three courses, which were kept in their order."""
    kept: Kept[str] = Kept(2)
    for course in COURSES:
        kept.keep(course, f"of {course}")
    return kept


def found(kept: Kept[str]) -> list[str]:
    return [course for course in COURSES if kept.find(course) is not None]


def test_as_many_as_have_room_are_kept_and_the_first_is_forgotten(kept):
    assert found(kept) == ["two", "three"]


def test_what_was_found_is_forgotten_after_what_nobody_asked_for(kept):
    assert kept.find("two") == "of two"
    kept.keep("one", "again")
    assert found(kept) == ["one", "two"]


def test_what_is_kept_anew_replaces_what_was_kept_and_pushes_nobody_out(kept):
    kept.keep("two", "more of two")
    assert (kept.find("two"), found(kept)) == ("more of two", ["two", "three"])


def test_what_is_kept_anew_is_forgotten_last(kept):
    kept.keep("two", "more of two")
    kept.keep("one", "again")
    assert found(kept) == ["one", "two"]


def test_what_is_taken_is_nobody_elses_until_it_is_kept_again(kept):
    assert kept.take("two") == "of two"
    assert kept.take("two") is None
    kept.keep("two", "more of two")
    assert found(kept) == ["two", "three"]


def test_what_is_taken_leaves_its_room_to_another(kept):
    kept.take("two")
    kept.keep("one", "again")
    assert found(kept) == ["one", "three"]


def test_nothing_is_found_or_taken_of_a_course_that_nobody_kept(kept):
    assert (kept.find("four"), kept.take("four")) == (None, None)


@pytest.fixture
def eager_threads():
    """Threads that take turns every few instructions, so that a missing lock shows."""
    usual = sys.getswitchinterval()
    sys.setswitchinterval(1e-6)
    yield
    sys.setswitchinterval(usual)


def test_many_threads_share_it_and_no_two_have_one_thing_in_hand(eager_threads):
    in_hand: Kept[Lock] = Kept(4)

    def take_and_keep(thread: int) -> bool:
        alone = True
        for turn in range(1000):
            course = str((thread + turn) % 6)
            thing = in_hand.take(course) or Lock()
            alone = thing.acquire(blocking=False) and alone
            in_hand.find(str(turn % 6))
            thing.release()
            in_hand.keep(course, thing)
        return alone

    with ThreadPoolExecutor(8) as threads:
        assert all(threads.map(take_and_keep, range(8)))
    assert sum(in_hand.find(str(course)) is not None for course in range(6)) == 4
