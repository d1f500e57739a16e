"""Sessions, drafts and throttles come and go without a trace in the record."""

from datetime import timedelta

import pytest
from sqlalchemy import text

from app.record.drafts import Draft, drop_draft, find_draft, list_drafts, store_draft
from app.record.sessions import (
    SignedIn,
    close_ended_sessions,
    close_session,
    close_sessions_of,
    find_session,
    open_session,
    touch_session,
)
from app.record.throttles import Throttle, clear_throttle, find_throttle, store_throttle


def sign_in(scene, browser="t") -> SignedIn:
    now = scene.clock()
    signed_in = SignedIn(
        staff_id=scene.therapist,
        csrf_secret="c",
        created_at=now,
        last_seen_at=now,
        ends_at=now + timedelta(hours=13),
        workstation="desk",
    )
    with scene.database.working() as session:
        open_session(session, browser, signed_in)
    return signed_in


def seen(scene, browser="t", **later) -> SignedIn | None:
    with scene.database.reading() as session:
        return find_session(session, browser, scene.clock() + timedelta(**later))


def test_a_session_is_found_by_its_token_only(scene):
    signed_in = sign_in(scene)
    assert seen(scene) == signed_in
    assert seen(scene, "another") is None


def test_the_token_itself_is_not_kept(scene):
    sign_in(scene, "secret-token")
    with scene.database.reading() as session:
        kept = session.execute(text("SELECT * FROM session")).one()
    assert "secret-token" not in str(kept)


@pytest.mark.parametrize(("hours", "there"), [(12.99, True), (13, False), (13.01, False)])
def test_a_session_ends_when_it_was_said_to(scene, hours, there):
    sign_in(scene)
    assert (seen(scene, hours=hours) is not None) is there


def test_a_touch_is_noted(scene):
    sign_in(scene)
    later = scene.clock.forward(minutes=3)
    with scene.database.working() as session:
        touch_session(session, "t", later)
    assert seen(scene).last_seen_at == later


def test_signing_out_closes_this_browser_only(scene):
    sign_in(scene, "one")
    sign_in(scene, "two")
    with scene.database.working() as session:
        close_session(session, "one")
    assert (seen(scene, "one"), seen(scene, "two") is not None) == (None, True)


def test_a_person_can_be_signed_out_everywhere(scene):
    sign_in(scene, "one")
    sign_in(scene, "two")
    with scene.database.working() as session:
        close_sessions_of(session, scene.therapist)
    assert (seen(scene, "one"), seen(scene, "two")) == (None, None)


def test_ended_sessions_are_swept(scene):
    sign_in(scene)
    with scene.database.working() as session:
        close_ended_sessions(session, scene.clock() + timedelta(hours=13))
    assert seen(scene) is None


def test_a_draft_is_kept_per_person_course_and_form(scene):
    first = Draft(scene.course, "full", '{"peep":"8"}', scene.clock())
    second = Draft(scene.course, "full", '{"peep":"9"}', scene.clock.forward(minutes=1))
    with scene.database.working() as session:
        store_draft(session, scene.therapist, first)
        store_draft(session, scene.therapist, second)
    with scene.database.reading() as session:
        assert find_draft(session, scene.therapist, scene.course, "full") == second
        assert find_draft(session, scene.therapist, scene.course, "gas") is None
        assert list_drafts(session, "somebody else") == ()


def test_a_saved_draft_is_dropped(scene):
    with scene.database.working() as session:
        store_draft(session, scene.therapist, Draft(scene.course, "full", "{}", scene.clock()))
        drop_draft(session, scene.therapist, scene.course, "full")
    with scene.database.reading() as session:
        assert list_drafts(session, scene.therapist) == ()


def test_failures_are_counted_and_forgotten(scene):
    waiting = Throttle(4, scene.clock())
    with scene.database.working() as session:
        assert find_throttle(session, "mira") == Throttle()
        store_throttle(session, "mira", Throttle(3))
        store_throttle(session, "mira", waiting)
    with scene.database.reading() as session:
        assert find_throttle(session, "mira") == waiting
    with scene.database.working() as session:
        clear_throttle(session, "mira")
        assert find_throttle(session, "mira") == Throttle()
