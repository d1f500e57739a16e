"""A flag in words: what the board needs, and a name that no shown number contradicts."""

from datetime import UTC, datetime, timedelta

import pytest

from app.pages.flag_words import flag_words, group_words
from app.pages.site_words import PLAIN
from app.rules.flags_now import FlagNow, GroupNow
from app.rules.unit_clock import UnitClock
from app.rules.watch.flags import Flag, Value
from app.rules.watch.overdue import RULE as PLATEAU_OVERDUE

NOW = datetime(2026, 11, 26, 9, tzinfo=UTC)
CLOCK = UnitClock("America/New_York")
RAISED = NOW - timedelta(hours=2)


def told(series: str, *shown: str, rule: str = "any", sentence: str = "One sentence.") -> FlagNow:
    values = tuple(Value(RAISED, text) for text in shown)
    flag = Flag(
        group="mechanics",
        rule=rule,
        series=series,
        raised_at=RAISED,
        cleared_at=None,
        values=values,
        side="under",
        against="55",
        drift=True,
        sentence=sentence,
        source="",
        would_clear="",
        policy_version=1,
    )
    return FlagNow(flag, values[-1] if values else None)


def test_a_drift_of_compliance_says_by_which_peep_it_is_judged() -> None:
    """A check shows compliance by total PEEP: 75 beside a fall to 40 would be a riddle."""
    words = flag_words(told("compliance", "40"), NOW, CLOCK, PLAIN)
    assert words == "Static compliance by set PEEP fell to 40, from 55"


def test_a_plateau_that_is_owed_has_a_short_name() -> None:
    owed = told("plateau", rule=PLATEAU_OVERDUE.key, sentence=PLATEAU_OVERDUE.sentence)
    assert flag_words(owed, NOW, CLOCK, PLAIN) == "Plateau overdue"


@pytest.mark.parametrize(
    ("brief", "detail"),
    [(True, "since 02:00"), (False, "open since 02:00: 41 at 02:00, 40 at 02:00")],
)
def test_the_board_says_since_when_and_leaves_the_values_to_the_bed(
    brief: bool, detail: str
) -> None:
    group = GroupNow("mechanics", (told("compliance", "41", "40"),))
    assert group_words(group, NOW, CLOCK, PLAIN, brief=brief)[1] == detail
