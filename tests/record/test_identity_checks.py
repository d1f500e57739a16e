"""Whose chart it is: said in one session of one course, and gone with that session."""

from datetime import timedelta

import pytest

from app.record.identity_checks import (
    NOT_YET,
    IdentityCheck,
    find_identity_check,
    store_identity_check,
)
from app.record.sessions import (
    SignedIn,
    close_ended_sessions,
    close_session,
    close_sessions_of,
    open_session,
)


def say(scene, browser="t", course="", **said) -> IdentityCheck:
    check = IdentityCheck(**{"confirmed_at": scene.clock(), **said})
    with scene.database.working() as session:
        store_identity_check(session, browser, course or scene.course, check)
    return check


def said(scene, browser="t", course="") -> IdentityCheck:
    with scene.database.reading() as session:
        return find_identity_check(session, browser, course or scene.course)


def test_what_was_said_is_found_again(scene):
    check = say(scene, wrong=2)
    assert said(scene) == check


def test_what_is_said_later_takes_its_place(scene):
    say(scene, wrong=1, confirmed_at=None)
    assert said(scene).confirmed_at is None
    later = say(scene, wrong=1)
    assert said(scene) == later


def test_it_holds_for_no_other_session_and_no_other_course(scene):
    say(scene)
    assert said(scene, "another") == NOT_YET
    assert said(scene, course=scene.admit(scene.beds[1])) == NOT_YET


@pytest.mark.parametrize("way", ["signed out", "signed out everywhere", "ended"])
def test_it_ends_with_its_session_and_with_no_other(scene, way):
    for browser, hours in (("t", 1), ("u", 13)):
        now = scene.clock()
        staff = scene.therapist
        lives = SignedIn(staff, "c", now, now, now + timedelta(hours=hours), "desk")
        with scene.database.working() as session:
            open_session(session, browser, lives)
        say(scene, browser)
    with scene.database.working() as session:
        if way == "signed out":
            close_session(session, "t")
        elif way == "signed out everywhere":
            close_sessions_of(session, scene.therapist)
        else:
            close_ended_sessions(session, scene.clock() + timedelta(hours=2))
    assert said(scene, "t") == NOT_YET
    assert (said(scene, "u") == NOT_YET) is (way == "signed out everywhere")
