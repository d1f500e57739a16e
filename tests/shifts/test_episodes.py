"""Prone, transport, standby and breathing trials through the pages, by whoever is on shift."""

from datetime import timedelta

import pytest

from app.charting.fields.episodes import SCREEN_ITEMS
from app.record.database import Database
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import chart
from tests.site import PASSWORD
from tests.ward import Ward

SCREENED = dict.fromkeys(SCREEN_ITEMS, "yes")
T_PIECE = {"trial_kind": "t_piece", "trial_minutes": "30"}


class Bed:
    """L3 in somebody's browser: what is charted there, minutes before the clock's now."""

    def __init__(self, browser: Browser, ward: Ward, clock: Clock) -> None:
        self.browser, self.ward, self.clock = browser, ward, clock
        self.base = f"/courses/{ward.courses['L3']}"

    def later(self, **span: float) -> None:
        """Time passes: whoever sat there signs in again."""
        self.clock.forward(**span)
        self.browser.sign_in("ash", PASSWORD)

    def say(self, doing: str, ago_min: int = 0, press: str = "", **typed: str) -> Answer:
        self.browser.get(f"{self.base}/episodes?act={doing}")
        at = self.clock.now - timedelta(minutes=ago_min) - timedelta(hours=5)
        when = f"{at:%Y-%m-%dT%H:%M}"
        action = f"{self.base}/episodes"
        return self.browser.submit(action, press=press, observed_at=when, **typed)

    def text(self, path: str = "") -> str:
        return self.browser.get(f"{self.base}{path}").page.text


@pytest.fixture
def bed(ash: Browser, ward: Ward, clock: Clock) -> Bed:
    return Bed(ash, ward, clock)


def test_a_prone_session_runs_over_shifts_until_somebody_else_ends_it(
    bed: Bed, clock: Clock
) -> None:
    bed.say("prone.begin", 10, prone_head_side="left", prone_depth_before="22")
    assert "Tube mark after the turn" in bed.text()
    bed.later(hours=5)
    for path in ("", "/handoff", "/handoff/print"):
        assert "Prone since 25 Nov 19:20, 5 h 10 min of 16 h; turn due 11:20" in bed.text(path)
    birch = bed.browser.another()
    birch.sign_in("birch", PASSWORD)
    night = Bed(birch, bed.ward, clock)
    ended = night.say("prone.end", prone_depth_after="22", prone_skin="Intact")
    assert "Turned prone: head left, until 00:30; 5 h 10 min" in ended.page.text
    assert "Prone since" not in night.text("/handoff")
    assert "Tube mark after the turn" not in night.text()


def test_the_sessions_own_hours_come_before_the_units(bed: Bed) -> None:
    bed.say("prone.begin", 60, prone_target_h="18")
    assert "1 h of 18 h" in bed.text()
    bed.say("prone.add", prone_target_h="20", prone_skin="Red over the left cheek")
    assert "1 h of 20 h" in bed.text()
    assert "Red over the left cheek" in bed.text("/episodes")


def test_a_transport_pauses_what_is_due_and_says_how_long_the_cylinder_lasts(
    bed: Bed, clock: Clock
) -> None:
    cylinder = {
        "contents": "660",
        "full_pressure": "137",
        "pressure": "137",
        "residual": "14",
        "flow": "10",
    }
    cylinder["unit.pressure"] = cylinder["unit.residual"] = "bar"
    shown = bed.say("away.begin", press="weight", away_to="CT", **cylinder)
    assert (shown.status, "59" in shown.page.text) == (200, True)
    assert "Away since" not in bed.text()
    saved = bed.say("away.begin", away_to="CT", **cylinder)
    assert "Cylinder at this flow 59 min, until 20:29" in saved.page.text
    bed.later(hours=6)
    assert "Away since 25 Nov 19:30" in bed.text()
    assert "paused" in bed.text()
    assert "away since 25 nov 19:30" in bed.browser.get("/").page.text.lower()
    bed.say("away.add", 20, way_fio2="60", way_spo2="91")
    back = bed.say("away.end", away_happened="Cuff leak, cuff filled")
    assert "FiO2 on the way: 60 %" in back.page.text
    assert "Settings after: not charted yet" in back.page.text
    assert "full check after the return" in bed.text()


def test_on_standby_the_last_settings_are_nowhere_shown_as_current(
    bed: Bed, ward: Ward, clock: Clock
) -> None:
    chart(bed.browser, ward, "L3")
    bed.later(minutes=30)
    bed.say("standby.begin", standby_how="disconnected", standby_breathes="bag")
    bed.later(minutes=20)
    parts = bed.browser.get(bed.base).page.root.all("div")
    now = next(part.text for part in parts if part["class"] == "now")
    assert "On standby since 20:00: no setting is in force" in now
    assert "420" not in now
    row = next(row for row in bed.browser.get("/").page.root.all("tr") if "L3" in row.text[:4])
    assert "On standby since 20:00" in row.text
    assert "45" not in row.text
    assert "On standby since 20:00" in bed.text("/handoff")


def test_a_trial_from_its_screen_to_its_outcome(bed: Bed, ward: Ward) -> None:
    chart(bed.browser, ward, "L3")
    bed.say("trial_screen.once", 40, **SCREENED)
    begun = bed.say("breathing_trial.begin", 10, **T_PIECE)
    assert (
        "Breathing trial: T-piece, since 19:20, 10 min of 30 min; screen passed" in begun.page.text
    )
    assert "end of the breathing trial, 30 min" in bed.text()
    bed.say("breathing_trial.end", trial_outcome="failed", trial_reason="Rate 40 for 5 min")
    assert "Breathing trial ended: failed: Rate 40 for 5 min" in bed.text("?since=shift")
    ended = "Breathing trial: T-piece, 19:20, until 19:30, failed: Rate 40 for 5 min"
    assert ended in bed.text("/handoff")
    assert "screen for a breathing trial" not in bed.text()
    bed.later(hours=24)
    assert "screen for a breathing trial" in bed.text()


def test_a_trial_may_follow_a_screen_that_was_not_passed_or_not_made_and_says_so(bed: Bed) -> None:
    bed.say("trial_screen.once", 40, screen_not_done="No time")
    begun = bed.say("breathing_trial.begin", 10, **T_PIECE)
    assert "screen not done: No time" in begun.page.text


BEGUN = ("prone.begin", 60, {})
SCREEN = ("trial_screen.once", 90, SCREENED)
TRIAL = ("breathing_trial.begin", 60, T_PIECE)
ILLEGAL = {
    "with nothing charted": (
        [],
        [
            ("prone.end", 0, {}, "not charted as going on"),
            (*TRIAL, "No screen is charted in the 24 h before"),
            ("trial_screen.once", 0, {"screen_cause": "yes"}, "Answer every item"),
            ("prone.add", 0, {"prone_skin": "Red"}, "not charted as begun"),
            ("away.begin", 0, {"pressure": "137", "residual": "0"}, "in one way"),
            ("prone.begin", 0, {"act": "prone.never"}, "pick one of the list"),
        ],
    ),
    "in prone": (
        [BEGUN],
        [
            ("prone.begin", 0, {}, "has not ended"),
            ("prone.begin", 90, {}, "Say when this earlier one ended"),
            ("prone.end", 70, {}, "The end is before the beginning"),
            ("prone.add", 0, {}, "Nothing was said"),
        ],
    ),
    "after prone": (
        [BEGUN, ("prone.end", 30, {})],
        [
            ("prone.begin", 40, {}, "two of them may not overlap"),
            ("prone.end", 40, {}, "at that time is charted already"),
            ("prone.end", 0, {}, "not charted as going on"),
        ],
    ),
    "screened": (
        [SCREEN],
        [
            ("breathing_trial.begin", 5, {}, "Say how: T-piece"),
            ("breathing_trial.begin", 5, {"trial_kind": "support"}, "Write the level"),
            ("breathing_trial.begin", 100, T_PIECE, "No screen is charted"),
            ("breathing_trial.begin", 5, {**T_PIECE, "trial_outcome": "passed"}, "Say when"),
        ],
    ),
    "on a trial": (
        [SCREEN, TRIAL],
        [
            ("breathing_trial.begin", 5, T_PIECE, "has not ended"),
            ("breathing_trial.end", 0, {}, "Say how the trial ended"),
            ("breathing_trial.end", 0, {"trial_outcome": "failed"}, "Say why"),
        ],
    ),
    "on standby": ([SCREEN, ("standby.begin", 80, {})], [(*TRIAL, "End that first")]),
}


@pytest.mark.parametrize("state", ILLEGAL)
def test_an_illegal_neighbour_is_refused_in_words(bed: Bed, state: str) -> None:
    before, refusals = ILLEGAL[state]
    for doing, ago, typed in before:
        assert bed.say(doing, ago, **typed).status == 200
    for doing, ago, typed, said in refusals:
        refused = bed.say(doing, ago, **typed)
        assert (refused.status, said in refused.page.text) == (422, True), (doing, said)


def test_an_earlier_session_is_charted_whole_beside_a_later_one(bed: Bed, clock: Clock) -> None:
    bed.say("prone.begin", 60)
    over = f"{clock.now - timedelta(hours=5, minutes=90):%Y-%m-%dT%H:%M}"
    saved = bed.say("prone.begin", 120, ended_at=over)
    assert (saved.status, "Turned prone, until 18:00; 30 min" in saved.page.text) == (200, True)
    into = f"{clock.now - timedelta(hours=5, minutes=50):%Y-%m-%dT%H:%M}"
    refused = bed.say("prone.begin", 80, ended_at=into)
    assert (refused.status, "Say when this earlier one ended" in refused.page.text) == (422, True)


def test_extracorporeal_support_takes_the_meaning_from_its_indices(
    bed: Bed, ward: Ward, clock: Clock
) -> None:
    chart(bed.browser, ward, "L3")
    gas(bed, pao2="80")
    assert "178" in bed.text()
    action = f"{bed.base}/events"
    bed.browser.get(action)
    bed.browser.submit(action, kind="ecmo", words="Veno-venous")
    assert "Extracorporeal support since 19:30: P/F" in bed.text("/handoff")
    clock.forward(minutes=5)
    gas(bed, pao2="90")
    page = bed.text()
    assert ("90" in page, "200" in page) == (True, False)


def gas(bed: Bed, pao2: str) -> None:
    """An arterial gas on 45 %."""
    action = f"{bed.base}/assess"
    bed.browser.get(f"{action}?kind=gas")
    typed = {"gas_specimen": "arterial", "ph": "7.36", "paco2": "41", "fio2_at_sample": "45"}
    assert bed.browser.submit(action, pao2=pao2, **typed).status == 200


def test_whoever_only_reads_sees_what_goes_on_and_no_form(bed: Bed, database: Database) -> None:
    bed.say("prone.begin", 60)
    oak = bed.browser.another()
    oak.sign_in("oak", PASSWORD)
    page = oak.get(f"{bed.base}/episodes").page
    assert "Prone since 18:30" in page.text
    assert not [form for form in page.root.all("form") if form["action"].endswith("/episodes")]
