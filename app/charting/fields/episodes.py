"""What a prone session, a transport, a standby and a breathing trial are asked for.

These fields are no part of a check: what they hold stands beside the event (`event_detail`).
"""

from collections.abc import Mapping
from types import MappingProxyType

from app.charting.field import Field, Group, Manner
from app.charting.fields.declare import (
    JUDGED,
    PRACTICE,
    Answers,
    Bounds,
    choice,
    moment,
    number,
    text,
    yes_no,
)

A, P, M = Group.AIRWAY, Group.PATIENT, Group.MEASURED
MEMORY = "from memory"
WEANING = f"Weaning consensus, Eur Respir J 2007;29:1033, {MEMORY}."


def _depth(code: str, label: str) -> Field:
    bounds: Bounds = ("5", "35")
    return number(
        code, label, A, Manner.STATED, "cm", hard=bounds, step="0.5", places=1, trim=True,
        source=JUDGED,
    )  # fmt: skip


def _during(code: str, label: str, unit: str, hard: Bounds) -> Field:
    return number(code, label, M, Manner.STATED, unit, hard=hard, source=JUDGED)


_PRONE = (
    choice(
        "prone_head_side",
        "Head turned to the",
        P,
        (("left", "Left"), ("right", "Right"), ("down", "Face down")),
    ),
    _depth("prone_depth_before", "Tube mark before"),
    _depth("prone_depth_after", "Tube mark after"),
    number(
        "prone_target_h",
        "Hours meant",
        P,
        Manner.STATED,
        "h",
        hard=("1", "72"),
        soft=("8", "24"),
        source=JUDGED,
    ),
    text("prone_skin", "Skin and eyes", P),
)

_AWAY = (
    text("away_to", "Where to", P, longest=60),
    text("away_machine", "Transport machine", P, longest=60),
    text("away_happened", "What happened on the way", P),
    _during("way_fio2", "FiO2 on the way", "%", ("21", "100")),
    _during("way_peep", "PEEP on the way", "cmH2O", ("0", "50")),
    _during("way_volume", "Tidal volume on the way", "mL", ("10", "2500")),
    _during("way_rate", "Rate on the way", "/min", ("0", "150")),
    _during("way_spo2", "SpO2 on the way", "%", ("0", "100")),
    _during("way_etco2", "EtCO2 on the way", "mmHg", ("0", "150")),
)

_STANDBY = (
    choice(
        "standby_how",
        "The machine",
        P,
        (("standby", "Stands by"), ("disconnected", "Is disconnected"), ("off", "Is off")),
    ),
    choice(
        "standby_breathes",
        "The patient breathes by",
        P,
        (
            ("bag", "A bag"),
            ("own", "Own breathing, oxygen only"),
            ("other", "Another machine"),
            ("membrane", "Extracorporeal support"),
            ("none", "Nothing: care withdrawn or death"),
        ),
    ),
    yes_no("standby_alarms", "Alarms are on again", P, about="Common practice: looked at by hand."),
)

SCREEN_ITEMS: Mapping[str, str] = MappingProxyType(
    {
        "screen_cause": "cause",
        "screen_oxygen": "oxygen",
        "screen_circulation": "circulation",
        "screen_effort": "effort",
        "screen_awake": "sedation",
        "screen_clear": "a reason against",
    }
)
"""What a screen asks, each with the word that stands for it where it was answered with no."""

_SCREEN = (
    yes_no("screen_cause", "What made support necessary is better", P, source=WEANING),
    yes_no("screen_oxygen", "Oxygen and PEEP are low enough", P, source=WEANING),
    yes_no(
        "screen_circulation",
        "Circulation is stable",
        P,
        about="No, or a low dose of, vasopressor; no new rhythm.",
        source=WEANING,
    ),
    yes_no("screen_effort", "Breathes in by effort of their own", P, source=WEANING),
    yes_no(
        "screen_awake",
        "Awake enough",
        P,
        about="After the sedation break where one is made (Girard, Lancet 2008, from memory).",
        source=f"Girard, Lancet 2008;371:126, {MEMORY}.",
    ),
    yes_no(
        "screen_clear",
        "Nothing speaks against it",
        P,
        about="Raised intracranial pressure, muscle relaxant, ischaemia within 24 h.",
        source=f"Girard, Lancet 2008;371:126, {MEMORY}.",
    ),
    text("screen_not_done", "Not screened, because", P),
)

T_PIECE, SUPPORT, CPAP = "t_piece", "support", "cpap"
PASSED, FAILED, STOPPED = "passed", "failed", "stopped"
TRIAL_WAYS: Answers = (
    (T_PIECE, "T-piece"),
    (SUPPORT, "Pressure support"),
    (CPAP, "CPAP"),
)
FAILING = (
    "Signs in use: over 35 breaths or SpO2 under 90 % for 5 min, heart rate up by 30 or over 80 %"
    " of the expected maximum, systolic over 180 or under 90, new rhythm, fatigue"
    " (table of failure signs, PMC4157996)."
)
_TRIAL = (
    choice("trial_kind", "By", P, TRIAL_WAYS),
    number(
        "trial_level",
        "Level",
        P,
        Manner.STATED,
        "cmH2O",
        hard=("0", "30"),
        soft=("0", "10"),
        about="Of support or CPAP. 5 to 8 of support: ATS/CHEST guideline 2017.",
        source=JUDGED,
    ),
    number(
        "trial_minutes",
        "Minutes meant",
        P,
        Manner.STATED,
        "min",
        hard=("1", "1440"),
        soft=("30", "120"),
        about="30 to 120: weaning consensus 2007, from memory.",
        source=WEANING,
    ),
    choice(
        "trial_outcome",
        "Outcome",
        P,
        ((PASSED, "Passed"), (FAILED, "Failed"), (STOPPED, "Stopped for another reason")),
        source=PRACTICE,
    ),
    text("trial_reason", "Why", P, about=FAILING),
)

_ANY = (
    moment("ended_at", "Ended at, if it is over", P),
    text("episode_words", "In a few words", P),
)

ASKED_OF_EPISODES: Mapping[str, Field] = MappingProxyType(
    {field.code: field for field in (*_PRONE, *_AWAY, *_STANDBY, *_SCREEN, *_TRIAL, *_ANY)}
)
"""Code to declaration."""
