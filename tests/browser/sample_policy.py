"""The unit's policy: three versions, a table to change, a preview, a pasted one refused."""

from collections import Counter
from datetime import UTC, datetime, timedelta

from msgspec.structs import replace

from app.pages.policy import History, history_of, policy_page
from app.pages.policy_change import (
    NEW_KEY,
    NEW_NUMBER,
    Sent,
    Sitting,
    Trial,
    add_page,
    change_form,
    paste_form,
    preview_page,
)
from app.pages.policy_page import AddPage, ChangeForm, PasteForm, PolicyPage, PreviewPage
from app.record.policies import PolicyVersion
from app.rules.policy_check import Problem
from app.rules.policy_tree import Tree, shipped_tree, table_at, to_toml, with_table
from app.rules.tried import Tried, TriedCourse
from app.rules.unit_clock import UnitClock
from tests.browser.sample_frame import frame

CLOCK = UnitClock("America/New_York")
NOW = datetime(2026, 11, 26, 7, 5, tzinfo=UTC)
PLATEAU = "limits.plateau_pressure_obs"


def _tree(over: int) -> Tree:
    source = "Unit meeting of 24 November, after the ARDS Network protocol and local practice."
    limit = {**table_at(shipped_tree(), PLATEAU), "over": over, "source": source}
    return with_table(shipped_tree(), PLATEAU, limit)


def _history() -> History:
    trees = (shipped_tree(), _tree(28), _tree(26))
    reasons = ("Shipped with the program.", "Lower plateaus agreed on.", "One winter's figures.")
    at = [NOW - timedelta(days=days) for days in (200, 40, 2)]
    return history_of(
        [
            PolicyVersion("larch", n, to_toml(tree), reason, moment, moment, "Cedar")
            for n, (tree, reason, moment) in enumerate(zip(trees, reasons, at, strict=True), 1)
        ]
    )


def policy() -> PolicyPage:
    return policy_page(frame("Policy"), _history(), 3, CLOCK, may_change=True)


def policy_earlier() -> PolicyPage:
    return policy_page(frame("Policy"), _history(), 1, CLOCK, may_change=True)


def policy_change() -> ChangeForm:
    typed = {f"{PLATEAU}.over": "3O", f"{PLATEAU}.stale_h": "6", f"{PLATEAU}.essential": "yes"}
    bad = {f"{PLATEAU}.over": "is no number; write digits, with a point before decimals"}
    page = change_form(frame("Policy"), PLATEAU, Sitting(_tree(26), "", 3), typed, bad)
    return replace(page, errors=("Limit: pH: outside under must be smaller than `over`.",))


def policy_noise() -> ChangeForm:
    typed = {"noise.fio2_set": "5", NEW_KEY: "heart_rate", NEW_NUMBER: "1O"}
    bad = {NEW_NUMBER: "is no number; write digits, with a point before decimals"}
    return change_form(frame("Policy"), "noise", Sitting(_tree(26), "", 3), typed, bad)


def policy_new_limit() -> ChangeForm:
    table = "limits.etco2_mmhg"
    typed, bad = (
        {f"{table}.over": "60", f"{table}.essential": "no"},
        {f"{table}.group": "is missing"},
    )
    return change_form(frame("Policy"), table, Sitting(_tree(26), "", 3), typed, bad)


def policy_add() -> AddPage:
    return add_page(frame("Policy"), _tree(26), "nonsense")


def policy_paste() -> PasteForm:
    wrong = (Problem(f"{PLATEAU}.over", "must lie between 0 and 90"), Problem("nose", "is missing"))
    return paste_form(frame("Policy"), to_toml(_tree(26)), 3, wrong, 20_000)


def policy_preview() -> PreviewPage:
    courses = (
        TriedCourse("1", 41, Counter({"plateau_over": 1}), Counter({"plateau_over": 4})),
        TriedCourse("2", 12, Counter({"cuff_outside": 2}), Counter({"cuff_outside": 2})),
    )
    tried = Tried(NOW - timedelta(days=7), courses, ("3",))
    sitting = Sitting(_tree(24), to_toml(_tree(24)), 3)
    trial = Trial(tried, {"1": "L3", "2": "L12"}, 7)
    sent = Sent("k-9", "Unit meeting", ("Say why, in at most 300 letters.",), 300)
    return preview_page(frame("Policy"), _tree(26), sitting, trial, sent)
