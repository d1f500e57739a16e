"""A lead's minute: what lies outside first, then overdue, then drift; nothing moves underneath."""

from datetime import timedelta

from app.pages.board import BoardBed
from app.pages.scan_order import in_order, placed
from app.rules.bed_summary import BedSummary, summarise
from app.rules.unit_clock import UnitClock
from tests.charting.rows import course, later
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.rules.watch.scenes import POLICY, check, with_band
from tests.shifts.checks import chart
from tests.site import PASSWORD
from tests.ward import Ward

CLOCK = UnitClock("UTC")
STIFF = {"plateau_pressure_obs": "34", "peak_inspiratory_pressure_obs": "40"}


def summary(*plateaus: str | None, every_h: float = 3) -> BedSummary:
    rows = [
        check(every_h * n, plateau_pressure_obs=each, peak_inspiratory_pressure_obs="40")
        for n, each in enumerate(plateaus)
    ]
    return summarise(with_band(course(*rows)), POLICY, CLOCK)


def codes(now_h: float, order: str = "worry", **beds: BedSummary | None) -> list[str]:
    found = [
        placed(BoardBed(code, "", each), later(hours=now_h), CLOCK) for code, each in beds.items()
    ]
    return [each.bed.code for each in in_order(found, order)]


def test_outside_comes_before_overdue_and_overdue_before_drift_and_the_quiet_last():
    outside, quiet = summary("31", "31", "31"), summary("22", "22", "22")
    drift = summary("18", "18", "24", "24", every_h=2)
    late = summary("22", every_h=0)
    found = codes(6.5, L1=None, L2=quiet, L3=drift, L4=late, L10=outside)
    assert found == ["L10", "L4", "L3", "L2", "L1"]


def test_by_bed_the_number_counts_and_not_its_first_digit():
    assert codes(1, order="bed", L10=None, L2=None, L1=None) == ["L1", "L2", "L10"]


def test_of_two_flags_the_older_comes_first():
    older, newer = summary("31", "31", "31"), summary("22", "31", "31")
    assert codes(6.5, L1=newer, L2=older) == ["L2", "L1"]


def counts(page: Answer) -> set[str]:
    """The figures over the beds that are not nought: "1 with a safety flag"."""
    lines = (e.text for e in page.page.root.all("li") if e["class"] == "some" or e.all("b"))
    return {line for line in lines if line[0].isdigit() and "flag" in line and line[0] != "0"}


def test_board_and_scan_count_the_same_beds_by_the_same_words(ash: Browser, ward: Ward):
    assert chart(ash, ward, "L3", cuff_pressure_cmh2o="18").status == 200
    found = counts(ash.get("/scan"))
    assert "1 with a safety flag" in found
    assert found == counts(ash.get("/"))


def beds_of(answer: Answer) -> list[str]:
    return [e.text for e in answer.page.root.all("a") if e["class"] == "bed"]


def test_a_scan_says_what_it_leaves_out(ash: Browser, ward: Ward):
    chart(ash, ward, "L3", **STIFF)
    page = ash.get("/scan?show=worry")
    assert beds_of(page)[0] == "L3"
    assert "Driving pressure 22" in page.page.text
    assert "Not shown:" in page.page.text


def test_the_corridor_view_names_nobody_and_no_value(ash: Browser, ward: Ward):
    chart(ash, ward, "L3", **STIFF)
    text = ash.get("/scan?view=corridor").page.text
    assert "Outside once" in text or "Flag raised" in text
    assert "P-01" not in text
    assert "over 15" not in text


def test_a_change_is_offered_and_not_applied(ash: Browser, ward: Ward, clock: Clock):
    page = ash.get("/scan?order=bed")
    news = next(e["hx-get"] for e in page.page.root.all("div") if e["id"] == "scan-news")
    assert ash.part(news).status == 304
    clock.now += timedelta(minutes=1)
    chart(ash, ward, "L3", **STIFF)
    offer = ash.part(news)
    assert "The unit has changed since" in offer.text
    assert "/scan?show=all&amp;order=bed" in offer.text


def test_nobody_reads_it_who_may_not_read_patients(browser: Browser):
    browser.sign_in("alder", PASSWORD)
    assert browser.get("/scan").status == 403
