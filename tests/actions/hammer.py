"""What one process of several does to one bed: open, contradict, decide, save; again and again."""

from datetime import UTC, datetime
from random import Random

from msgspec import Struct
from msgspec.structs import replace

from app.actions.chart_assessment import Charted, HeldUp, NothingCharted, chart_assessment
from app.actions.meet_the_chart import ChartMovedOn, Opened
from app.charting.check import TypedCheck
from app.charting.facts import Kind
from app.charting.meeting import Choice
from app.record.database import Database
from app.record.errors import NotWritable
from app.record.opening import Opening, opening

ALWAYS = ("spo2", "resp_rate_obs")
"""What a brief check asks for: with them nothing is asked but what the chart says otherwise."""

SOMETIMES = ("peep_set", "plateau_pressure_obs", "tidal_volume_obs")
VALUES = {
    "spo2": ("92", "93", "94"),
    "resp_rate_obs": ("20", "22", "24"),
    "peep_set": ("10", "12"),
    "plateau_pressure_obs": ("24", "26"),
    "tidal_volume_obs": ("400", "420"),
}


class Accepted(Struct, frozen=True):
    """One save that was answered with its row: what must stand in the record, once."""

    assessment_id: str
    readings: int
    typed: dict[str, str]
    left: frozenset[str]
    """Fields that somebody decided, once at least, to leave to others."""
    asked: int
    """How often somebody had to decide before it was saved."""


ATTEMPTS = 200


def clock() -> datetime:
    return datetime.now(UTC)


def hammer(
    url: str, staff_id: str, course_id: str, first: datetime, saves: int, seed: int
) -> list[Accepted]:
    """Save so many checks, each from a form opened before others saved; some of them twice."""
    random = Random(seed)
    database = Database(url)
    accepted = []
    seen = _open(database)
    for number in range(saves):
        if number % 5 == 4:
            seen = _open(database)
        codes = (*ALWAYS, *random.sample(SOMETIMES, 2))
        typed = {code: random.choice(VALUES[code]) for code in codes}
        if "plateau_pressure_obs" in typed:
            typed["hold_passive"] = "yes"
        check = TypedCheck(Kind.BRIEF, first, "ac_vc", typed=typed)
        key = f"{seed}-{number}"
        accepted.append(_save(database, staff_id, course_id, check, key, Opened(seen), random))
    database.close()
    return accepted


def _open(database: Database) -> Opening:
    with database.reading() as session:
        return opening(session)


def _save(
    database: Database,
    staff_id: str,
    course_id: str,
    check: TypedCheck,
    key: str,
    opened: Opened,
    random: Random,
) -> Accepted:
    """Answer and decide until the form is saved; some are sent once more."""
    saved: Charted | None = None
    left: set[str] = set()
    asked = 0
    for _ in range(ATTEMPTS):
        try:
            with database.writing(clock, staff_id) as writing:
                charted = chart_assessment(writing, course_id, check, save_key=key, opened=opened)
        except HeldUp as held:
            keys = {objection.key for objection in held.read.objections}
            check = replace(check, accepted=check.accepted | keys)
        except ChartMovedOn as moved:
            asked += 1
            choices = {each.key: random.choice(list(Choice)).value for each in moved.differences}
            opened = replace(opened, choices={**opened.choices, **choices})
            left |= {
                said.field
                for each in moved.differences
                for said in each.mine
                if choices[each.key] == Choice.THEIRS
            }
        except NothingCharted:  # all of it was left to others: somebody types one thing more
            check = replace(check, typed={**check.typed, "temp_c": "37.2"})
        except NotWritable:  # another process waits longer; the key makes asking again safe
            continue
        else:
            saved = saved or charted
            assert saved.assessment_id == charted.assessment_id
            if charted.again or random.random() < 0.8:
                typed = dict(check.typed)
                return Accepted(saved.assessment_id, saved.readings, typed, frozenset(left), asked)
    raise AssertionError("no answer is ever enough")
