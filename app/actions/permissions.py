"""Who may do what: one table, asked by every route (decision: the server decides, not the page)."""

from collections.abc import Mapping
from enum import StrEnum


class Role(StrEnum):
    """What a person is here; the word on screen is `ROLE_WORDS`."""

    THERAPIST = "therapist"
    LEAD = "lead"
    READER = "reader"
    STUDENT = "student"
    AUDITOR = "auditor"


ROLE_WORDS: Mapping[Role, str] = {
    Role.THERAPIST: "respiratory therapist",
    Role.LEAD: "lead",
    Role.READER: "reader",
    Role.STUDENT: "student",
    Role.AUDITOR: "auditor",
}


class Act(StrEnum):
    """What can be done, in the words that follow "may not"."""

    READ_PATIENTS = "read patients' pages"
    DRAFT = "fill in a check"
    """Open the form and save it: as a fact by who may chart, as a draft by who may not."""
    CHART = "chart"
    CO_SIGN = "sign a student's draft"
    CORRECT = "correct the chart"
    WRITE_NOTES = "write handoff notes"
    OFFER = "offer or accept a handoff"
    PLACE = "admit patients, move them or end their course"
    COVER = "cover for a colleague"
    ASSIGN = "assign beds"
    SET_POLICY = "change the unit's limits"
    READ_AUDIT = "read the audit"
    MANAGE_PEOPLE = "manage people"


_AT_THE_BEDSIDE = frozenset(
    {
        Act.READ_PATIENTS,
        Act.DRAFT,
        Act.CHART,
        Act.CO_SIGN,
        Act.CORRECT,
        Act.WRITE_NOTES,
        Act.OFFER,
        Act.PLACE,
        Act.COVER,
    }
)

_NOTHING: frozenset[Act] = frozenset()

MAY: Mapping[str, frozenset[Act]] = {
    Role.THERAPIST: _AT_THE_BEDSIDE,
    Role.LEAD: _AT_THE_BEDSIDE | {Act.ASSIGN, Act.SET_POLICY, Act.READ_AUDIT, Act.MANAGE_PEOPLE},
    Role.READER: frozenset({Act.READ_PATIENTS}),
    # A student charts drafts that count once somebody has signed beside them; facts, never.
    Role.STUDENT: frozenset({Act.READ_PATIENTS, Act.DRAFT}),
    Role.AUDITOR: frozenset({Act.READ_AUDIT}),
}


def may(role: str, act: Act) -> bool:
    """Whether the role covers the act; a role that nobody declared covers nothing."""
    return act in MAY.get(role, _NOTHING)


def allowed_names(role: str) -> frozenset[str]:
    """The names of everything that the role may do, for a page that offers it."""
    return frozenset(act.name for act in Act if may(role, act))


def role_words(role: str) -> str:
    """The role as a page writes it."""
    return ROLE_WORDS[Role(role)] if role in MAY else role
