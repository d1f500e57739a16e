"""What a form that is being typed means so far: its indices, and what is said beside each field."""

from collections.abc import Iterable, Iterator
from datetime import datetime, timedelta

from msgspec import Struct
from msgspec.structs import replace

from app.charting.check import ReadCheck, TypedCheck, as_row, read_check
from app.charting.facts import Assessment, CourseFacts, Kind
from app.charting.field import Use
from app.charting.uses import use_of
from app.pages.assess_fields import Around, last_values, offered
from app.pages.assess_page import LiveIndices, Says
from app.pages.assess_says import says_of
from app.pages.shown import Drawn, Shown
from app.pages.site_words import PLAIN, SiteWords
from app.pages.values import against, limit_of, of_index
from app.physiology.catalogue import CATALOGUE
from app.rules.bed_summary import work_out
from app.rules.muted import muted_at
from app.rules.unit_clock import UnitClock
from app.rules.watch.policies import Policies

LIVE = {
    Kind.FULL: (
        "vt_per_pbw",
        "driving_pressure",
        "compliance_static",
        "auto_peep",
        "airway_resistance",
        "minute_ventilation",
        "ie_ratio",
        "rsbi",
        "rox",
        "sf_ratio",
    ),
    Kind.GAS: ("pf_ratio", "aa_gradient", "ventilatory_ratio", "oxygenation_index"),
}
DAY = timedelta(hours=24)


class LiveAnswer(Struct, frozen=True):
    """The answer to a form that is still being typed."""

    live: LiveIndices
    says: tuple[Says, ...]


def live_answer(
    facts: CourseFacts,
    check: TypedCheck,
    policies: Policies,
    clock: UnitClock,
    now: datetime,
    *,
    being_typed: str = "",
    words: SiteWords = PLAIN,
) -> LiveAnswer:
    """Indices of everything that can be read, and a word beside each field but the one in hand.

    A text that is still being typed is not judged, neither by itself nor against other fields.
    """
    settled = without(check, being_typed)
    read = read_so_far(settled, facts, policies, now)
    around = Around(
        facts, settled, read, last_values(facts, check.observed_at), frozenset(), clock, now
    )
    says = (
        says_of(code, read, around.last.get(code), tagged=_tagged(code, around), words=words)
        for code in offered(around)
        if code != being_typed
    )
    return LiveAnswer(live_indices(facts, check, policies, now), tuple(says))


def _tagged(code: str, around: Around) -> bool:
    return use_of(around.family, code, around.check.kind, around.airway) is Use.TAGGED


def without(check: TypedCheck, code: str) -> TypedCheck:
    """The form as if nothing stood in one field."""
    return replace(check, typed={c: text for c, text in check.typed.items() if c != code})


def read_so_far(
    check: TypedCheck, facts: CourseFacts, policies: Policies, now: datetime
) -> ReadCheck:
    """The form read without asking about what is still empty; an empty form is asked nothing."""
    read = read_check(check, facts, now=now, site=policies.site)
    busy = bool(read.readings or read.outcomes)
    mine = tuple(each for each in read.objections if each.field and busy)
    return replace(read, objections=mine)


def live_indices(
    facts: CourseFacts, check: TypedCheck, policies: Policies, now: datetime
) -> LiveIndices:
    """The readings that can be read so far, worked out as if they were saved now; judged by the
    policy of the time observed."""
    read = read_check(check, facts, now=now, site=policies.site)
    row = as_row(check, read.readings)
    recent = tuple(
        known for known in facts.standing if _is_before(known, check.observed_at, within=DAY)
    )
    worked = work_out(replace(facts, assessments=(*recent, row)), policies)
    answers, policy = worked[-1][1], policies.at(check.observed_at)
    adult = facts.age_y is None or facts.age_y >= policy.adult_age_y
    judged = adult and muted_at(facts, check.observed_at) is None
    shown = (
        against(of_index(CATALOGUE[key], answers[key]), limit_of(key, policy, adult=judged), run=1)
        for key in LIVE.get(check.kind, LIVE[Kind.FULL])
    )
    return LiveIndices(tuple(_worth_showing(shown)))


def _worth_showing(shown: Iterable[Shown]) -> Iterator[Shown]:
    return (value for value in shown if value.drawn is not Drawn.NOTHING)


def _is_before(row: Assessment, moment: datetime, *, within: timedelta) -> bool:
    return moment - within <= row.observed_at <= moment
