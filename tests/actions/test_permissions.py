"""Who may do what."""

import pytest

from app.actions.permissions import MAY, ROLE_WORDS, Act, Role, may, role_words

EXPECTED = {
    Act.READ_PATIENTS: {Role.THERAPIST, Role.LEAD, Role.READER, Role.STUDENT},
    Act.DRAFT: {Role.THERAPIST, Role.LEAD, Role.STUDENT},
    Act.CHART: {Role.THERAPIST, Role.LEAD},
    Act.CO_SIGN: {Role.THERAPIST, Role.LEAD},
    Act.CORRECT: {Role.THERAPIST, Role.LEAD},
    Act.WRITE_NOTES: {Role.THERAPIST, Role.LEAD},
    Act.OFFER: {Role.THERAPIST, Role.LEAD},
    Act.PLACE: {Role.THERAPIST, Role.LEAD},
    Act.COVER: {Role.THERAPIST, Role.LEAD},
    Act.ASSIGN: {Role.LEAD},
    Act.SET_POLICY: {Role.LEAD},
    Act.READ_AUDIT: {Role.LEAD, Role.AUDITOR},
    Act.MANAGE_PEOPLE: {Role.LEAD},
}


@pytest.mark.parametrize("act", Act)
def test_each_act_is_open_to_these_roles_and_no_other(act: Act):
    assert {role for role in Role if may(role, act)} == EXPECTED[act]


@pytest.mark.parametrize("role", ["", "admin", "Lead", "therapist "])
def test_a_role_that_nobody_declared_may_do_nothing(role: str):
    assert not any(may(role, act) for act in Act)


def test_every_role_has_its_place_and_its_word():
    assert set(MAY) == set(ROLE_WORDS) == set(Role)
    assert role_words("therapist") == "respiratory therapist"
    assert role_words("somebody") == "somebody"
