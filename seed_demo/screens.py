"""The morning's screens for a breathing trial, as the night charts them before it hands over."""

from datetime import time, timedelta

from app.charting.fields.episodes import FAILED, PASSED, SCREEN_ITEMS, SUPPORT
from seed_demo.story import Happening
from seed_demo.when import At

EARLY = At(time(5, 20), 2)
YES = dict.fromkeys(SCREEN_ITEMS, "yes")


def screened(*against: str, at: At = EARLY) -> Happening:
    """This morning's screen, or another one, with what was answered with no."""
    words = ", ".join(SCREEN_ITEMS[code] for code in against)
    result = f"not passed: {words}" if against else "passed"
    return Happening(
        "trial_screen",
        at,
        f"Screened for a breathing trial: {result}",
        details={**YES, **dict.fromkeys(against, "no")},
    )


FAILED_TRIAL = Happening(
    "breathing_trial",
    At(time(5, 40), 5 / 3),
    "Breathing trial: pressure support, 5 cmH2O",
    timedelta(minutes=25),
    details={"trial_kind": SUPPORT, "trial_level": "5", "trial_minutes": "30"},
    at_end={"trial_outcome": FAILED, "trial_reason": "rate over 35 for 5 min, tired"},
)
"""Ended after 25 of 30 minutes."""


def passed_trial(at: At) -> Happening:
    """A trial of an hour that was passed."""
    return Happening(
        "breathing_trial",
        at,
        "Breathing trial: pressure support, 5 cmH2O",
        timedelta(minutes=60),
        details={"trial_kind": SUPPORT, "trial_level": "5", "trial_minutes": "60"},
        at_end={"trial_outcome": PASSED},
    )
