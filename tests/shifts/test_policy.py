"""A lead changes the policy: read by all, tried on the past, adopted, judged by from then on."""

import csv
import io

import pytest
from msgspec import Struct

from app.commands.checked import report_differences
from app.exchange.indices_export import export_indices
from app.record.judging import judging
from app.record.policies import policy_history, policy_in_force
from app.rules.policy_tree import flat, to_toml, tree_of
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.shifts.checks import PLAIN
from tests.shifts.test_explained import main_value
from tests.site import PASSWORD
from tests.ward import Ward

PLATEAU = "/policy/change/limits.plateau_pressure_obs"
OVER = "e.limits.plateau_pressure_obs.over"
SOURCE = "e.limits.plateau_pressure_obs.source"
LIGHTER = {**PLAIN, "plateau_pressure_obs": "25", "peep_total": "12"}


@pytest.fixture
def cedar(browser: Browser) -> Browser:
    """Cedar, the lead, signed in."""
    browser.sign_in("cedar", PASSWORD)
    return browser


class Unit(Struct):
    """The record under the pages, and how somebody charts."""

    database: object
    ward: Ward
    clock: Clock

    def versions(self) -> list[int]:
        with self.database.reading() as session:
            return [held.version for held in policy_history(session, self.ward.unit_id)]

    def toml(self) -> str:
        with self.database.reading() as session:
            return policy_in_force(session, self.ward.unit_id, self.clock()).toml

    def chart(self, browser: Browser, **typed: str) -> Answer:
        self.clock.forward(minutes=10)
        action = f"/courses/{self.ward.courses['L3']}/assess"
        browser.get(action)
        pulse = str(80 + self.clock.now.minute // 10)
        return browser.submit(action, **{**LIGHTER, "heart_rate": pulse, **typed})


@pytest.fixture
def unit(database, ward: Ward, clock: Clock) -> Unit:
    """The unit."""
    return Unit(database, ward, clock)


def propose(browser: Browser, over: str, **typed: str) -> Answer:
    browser.get(PLATEAU)
    return browser.submit(PLATEAU, **{OVER: over, **typed})


def adopt(browser: Browser, over: str, reason: str = "unit meeting") -> Answer:
    propose(browser, over, **{SOURCE: "Unit meeting of 25 November."})
    return browser.submit("/policy/adopt", reason=reason)


def test_one_day_is_said_as_one(cedar: Browser) -> None:
    told = cedar.get("/policy").page.text
    assert "begin the ventilator days anew 1 day" in told
    assert "1 days" not in told
    assert "fresh for 7 days" in told


def test_everybody_reads_it_and_nobody_but_a_lead_changes_it(browser: Browser, unit: Unit) -> None:
    for name in ("ash", "fern", "oak", "alder"):
        somebody = browser.another()
        somebody.sign_in(name, PASSWORD)
        page = somebody.get("/policy").page
        for words in ("Limit: Plateau pressure", "ARDS Network protocol", "Set in version 1"):
            assert words in page.text
        assert not [a for a in page.root.all("a") if a["href"].startswith("/policy/change")]
        assert flat(tree_of(somebody.get("/policy/versions/1/toml").text))["limits.ph.over"]
        token = next(e["value"] for e in page.root.all("input") if e["name"] == "csrf")
        sent = {"csrf": token, "toml": unit.toml(), "base": "1", "reason": "mine"}
        assert somebody.get(PLATEAU).status == 403
        for action in (PLATEAU, "/policy/preview", "/policy/adopt"):
            assert somebody.post(action, sent).status == 403
    assert unit.versions() == [1]


def test_a_slip_is_told_beside_its_field_and_what_was_typed_stays(cedar: Browser, unit) -> None:
    answer = propose(cedar, "3O", **{SOURCE: "Ours"})
    assert answer.status == 422
    typed = {e["name"]: e for e in answer.page.root.all("input")}
    assert (typed[OVER]["value"], typed[SOURCE]["value"]) == ("3O", "Ours")
    assert "It is no number; write digits" in answer.page.text
    answer = cedar.submit(PLATEAU, **{OVER: "200"})
    assert "It must lie between 0 and 90." in answer.page.text
    assert unit.versions() == [1]


def test_it_is_tried_on_the_past_before_anybody_adopts_it(cedar: Browser, unit: Unit) -> None:
    for _ in range(2):
        unit.chart(cedar)
    page = propose(cedar, "24").page
    assert "Outside over" not in page.text
    assert "Plateau pressure: outside over was 30 →, now 24 cmH2O" in page.text
    (row,) = [row for row in page.root.all("tr") if row.text.startswith("L3")]
    assert [cell.text for cell in row.all("td")][:3] == ["2", "0", "1"]
    assert "Plateau was over its limit" in row.text
    longer = cedar.submit("/policy/preview", press="14")
    assert "in the last 14 days" in longer.page.text
    assert unit.versions() == [1]


def test_adopted_it_judges_what_comes_and_leaves_what_was(cedar: Browser, unit: Unit) -> None:
    for _ in range(2):
        unit.chart(cedar)
    unit.clock.forward(minutes=1)
    page = adopt(cedar, "24").page
    assert "Starting policy, version 2, by Cedar: unit meeting" in page.text
    assert "Set in version 2, Cedar" in page.text
    assert "Unit meeting of 25 November." in page.text
    base = f"/courses/{unit.ward.courses['L3']}"
    assert "over 24" not in cedar.get(base).page.text
    assert "version 1" in cedar.get(f"{base}/numbers/plateau_pressure_obs").page.text
    for _ in range(2):
        unit.chart(cedar)
    flagged = cedar.get(f"{base}/flags/mechanics").page.text
    assert "Plateau pressure 25, over 24" in flagged
    assert "Raised under Starting policy, version 2" in flagged
    assert "version 2" in cedar.get(f"{base}/numbers/plateau_pressure_obs").page.text


def test_the_record_stays_whole_after_an_adoption_and_the_board_says_the_version(
    cedar: Browser, unit: Unit
) -> None:
    unit.chart(cedar)
    adopt(cedar, "24")
    assert "version 2" in cedar.get("/").page.text
    report_differences(unit.database)


def test_every_version_stays_with_what_changed_and_its_file(cedar: Browser, unit: Unit) -> None:
    adopt(cedar, "28")
    unit.clock.forward(minutes=10)
    adopt(cedar, "26", reason="again")
    page = cedar.get("/policy").page
    told = [item.text for item in page.root.all("li") if item["id"].startswith("version-")]
    assert [text.split()[1] for text in told] == ["3", "2", "1"]
    assert "Plateau pressure: outside over" in told[0]
    assert "again" in told[0]
    assert "30" in told[1]
    assert flat(tree_of(cedar.get("/policy/versions/2/toml").text))[OVER[2:]] == 28
    earlier = cedar.get("/policy/versions/2").page
    assert "The unit's policy, version 2" in earlier.text
    assert not [a for a in earlier.root.all("a") if a["href"].startswith("/policy/change")]
    assert cedar.get("/policy/versions/9").status == 404


REFUSED = (("24", "", "Say why"), ("24", "x" * 301, "Say why"), ("30", "why", "Nothing differs"))


def test_what_cannot_be_adopted_is_refused_in_words(cedar: Browser, unit: Unit) -> None:
    for over, reason, words in REFUSED:
        propose(cedar, over)
        answer = cedar.submit("/policy/adopt", reason=reason)
        assert answer.status == 422
        assert words in answer.page.text
    assert unit.versions() == [1]


def test_a_form_sent_twice_adopts_once(cedar: Browser, unit: Unit) -> None:
    page = propose(cedar, "24").page
    form = {e["name"]: e["value"] for e in page.form("/policy/adopt").all("input")}
    for _ in range(2):
        assert cedar.post("/policy/adopt", {**form, "reason": "twice"}).path == "/policy"
    assert unit.versions() == [1, 2]


def test_two_leads_do_not_undo_each_other_unseen(cedar: Browser, unit: Unit) -> None:
    page = propose(cedar, "24").page
    form = {e["name"]: e["value"] for e in page.form("/policy/adopt").all("input")}
    cedar.get("/policy/change/limits.ph")
    cedar.submit("/policy/change/limits.ph", **{"e.limits.ph.over": "7.6"})
    cedar.submit("/policy/adopt", reason="the other")
    answer = cedar.post("/policy/adopt", {**form, "reason": "mine"})
    assert answer.status == 422
    assert "Another version was put in force meanwhile" in answer.page.text
    assert "pH: outside over" in answer.page.text
    assert unit.versions() == [1, 2]


def test_several_tables_change_in_one_sitting(cedar: Browser, unit: Unit) -> None:
    propose(cedar, "28")
    action = "/policy/change/rounds"
    form = {e["name"]: e["value"] for e in cedar.last.page.form("/policy/preview").all("input")}
    cedar.post(action, {**form, "open": "yes"})
    cedar.submit(action, **{"e.rounds.times": "04:00, 08:00 12:00"})
    cedar.submit("/policy/adopt", reason="both")
    held = flat(tree_of(unit.toml()))
    assert held["rounds.times"] == ["04:00", "08:00", "12:00"]
    assert (held[OVER[2:]], held["reason"]) == (28, "both")


def test_a_pasted_policy_says_all_that_is_wrong_or_is_looked_at(cedar: Browser, unit) -> None:
    assert "plateau at most 30" in cedar.get("/policy/paste").page.text
    text = to_toml(tree_of(unit.toml()))
    wrong = text.replace("over = 30", "over = -30", 1).replace(
        "count = 2\nof = 3", "count = 4\nof = 3", 1
    )
    answer = cedar.submit("/policy/preview", toml=wrong)
    assert answer.status == 422
    assert "limits.plateau_pressure_obs.over must lie between 0 and 90" in answer.page.text
    fine = cedar.submit("/policy/preview", toml=text.replace("over = 30", "over = 29", 1))
    assert "Plateau pressure: outside over" in fine.page.text
    cedar.submit("/policy/adopt", reason="pasted")
    assert flat(tree_of(unit.toml()))[OVER[2:]] == 29


def test_between_two_requests_a_policy_is_the_same_object(cedar: Browser, unit: Unit) -> None:
    adopt(cedar, "24")
    seen = []
    for _ in range(2):
        with unit.database.reading() as session:
            seen.append(judging(session, unit.ward.unit_id, unit.clock()).watching.policies)
    assert seen[0] is seen[1]


SITE, PRESSURE = "/policy/change/site", "e.site.barometric_mmhg"
GAS = {"gas_specimen": "arterial", "ph": "7.36", "paco2": "44", "pao2": "72"}


def draw(browser: Browser, unit: Unit) -> str:
    """Chart a gas; the address of its alveolar pressure."""
    unit.clock.forward(minutes=10)
    base = f"/courses/{unit.ward.courses['L3']}"
    browser.get(f"{base}/assess?kind=gas")
    browser.submit(f"{base}/assess", **GAS)
    return f"{base}/numbers/alveolar_po2?at={unit.clock():%Y%m%dT%H%M%SZ}"


def exported(unit: Unit, key: str) -> list[str]:
    out = io.StringIO()
    with unit.database.reading() as session:
        export_indices(session, judging(session, unit.ward.unit_id, unit.clock()), out)
    return [row[key] for row in csv.DictReader(io.StringIO(out.getvalue())) if row[key]]


def test_a_gas_keeps_the_barometric_pressure_of_the_version_that_was_in_force(
    cedar: Browser, unit: Unit
) -> None:
    unit.chart(cedar)
    older = draw(cedar, unit)
    said = "760 mmHg in force at its time: Starting policy, version 1"
    assert said in cedar.get(older).page.text
    unit.clock.forward(minutes=1)
    cedar.get(SITE)
    cedar.submit(SITE, **{PRESSURE: "630"})
    cedar.submit("/policy/adopt", reason="the unit moved up the mountain")
    newer = draw(cedar, unit)
    again, after = cedar.get(older), cedar.get(newer)
    assert said in again.page.text
    assert "630 mmHg in force at its time: Starting policy, version 2" in after.page.text
    shown = [main_value(answer, "alveolar_po2").partition(" ")[0] for answer in (again, after)]
    assert shown == ["271", "212"]
    assert exported(unit, "alveolar_po2") == ["270.80", "212.30"]
    report_differences(unit.database)


COMPLIANCE = "/policy/change/rules.compliance_fall"
BY, CLEAR = "e.rules.compliance_fall.by", "e.rules.compliance_fall.clear"


def field(answer: Answer, name: str) -> str:
    inputs = answer.page.root.all("input", "select")
    return next(each["value"] for each in inputs if each["name"] == name)


def test_a_change_against_a_level_is_shown_and_typed_in_percent(cedar: Browser, unit: Unit) -> None:
    assert "19.7 % below the level" in cedar.get("/policy").page.text
    opened = cedar.get(COMPLIANCE)
    assert (field(opened, BY), "logarithm" in opened.page.text) == ("19.7", False)
    same = cedar.submit(COMPLIANCE)
    assert "Nothing differs" in same.page.text
    cedar.get(COMPLIANCE)
    page = cedar.submit(COMPLIANCE, **{BY: "25 %"}).page
    assert "was 19.7 →, now 25.0 % below the level" in page.text
    assert cedar.submit("/policy/adopt", reason="unit meeting").path == "/policy"
    assert str(flat(tree_of(unit.toml()))["rules.compliance_fall.by"]) == "0.2877"


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({BY: "0.22"}, "between 1 and 99 percent"),
        ({BY: "100"}, "between 1 and 99 percent"),
        ({BY: "a fifth"}, "no number"),
        ({CLEAR: "30"}, "more than the change that raises it (19.7)"),
    ],
)
def test_a_share_that_cannot_be_is_told_beside_its_field(cedar: Browser, typed, said) -> None:
    cedar.get(COMPLIANCE)
    answer = cedar.submit(COMPLIANCE, **typed)
    assert (answer.status, said in answer.page.text) == (422, True)


def test_a_limit_is_added_in_a_form_and_judges_from_then_on(cedar: Browser, unit: Unit) -> None:
    chosen = cedar.get("/policy/add?key=etco2_mmhg")
    action = "/policy/change/limits.etco2_mmhg"
    assert chosen.path == action
    part = "e.limits.etco2_mmhg."
    typed = {f"{part}over": "60", f"{part}stale_h": "6", f"{part}source": "Unit meeting."}
    missing = cedar.submit(action, **typed)
    assert (missing.status, "It is missing." in missing.page.text) == (422, True)
    looked = cedar.submit(action, **{f"{part}group": "drive", f"{part}essential": "yes"})
    assert "outside over was nothing →, now 60 mmHg" in looked.page.text
    cedar.submit("/policy/adopt", reason="unit meeting")
    added = flat(tree_of(unit.toml()))
    assert added["limits.etco2_mmhg.over"] == 60
    assert added["limits.etco2_mmhg.essential"] is True
    assert "Limit: End-tidal CO2" in cedar.get("/policy").page.text
    for _ in range(2):
        unit.chart(cedar, etco2_mmhg="62")
    assert "over 60" in cedar.get(f"/courses/{unit.ward.courses['L3']}").page.text


@pytest.mark.parametrize(
    "key", ["plateau_pressure_obs", "cylinder_minutes", "berlin_class", "position"]
)
def test_what_has_a_limit_or_can_have_none_is_not_added(cedar: Browser, key: str) -> None:
    assert cedar.get(f"/policy/add?key={key}").status == 422
    options = [each["value"] for each in cedar.last.page.root.all("option")]
    assert key not in options
    assert {"etco2_mmhg", "compliance_static"} <= set(options)


def test_a_noise_band_is_added_in_the_table_form(cedar: Browser, unit: Unit) -> None:
    action = "/policy/change/noise"
    cedar.get(action)
    for typed, said in (
        ({"new.key": "heart_rate"}, "is no number"),
        ({"new.key": "", "new.number": "5"}, "is not chosen"),
    ):
        answer = cedar.submit(action, **typed)
        assert (answer.status, said in answer.page.text) == (422, True)
    looked = cedar.submit(action, **{"new.key": "heart_rate", "new.number": "10"})
    assert "heart rate was nothing →, now 10 /min" in looked.page.text
    cedar.submit("/policy/adopt", reason="unit meeting")
    assert flat(tree_of(unit.toml()))["noise.heart_rate"] == 10


def send_file(browser: Browser, content: bytes) -> Answer:
    """Send a file from the page on which a policy is pasted."""
    page = browser.get("/policy/paste").page
    form = page.form("/policy/upload")
    hidden = {e["name"]: e["value"] for e in form.all("input") if e["type"] == "hidden"}
    file = {"toml": ("policy.toml", content, "application/toml")}
    return browser.send("POST", "/policy/upload", data=hidden, files=file)


def test_a_policy_comes_as_a_file_and_is_looked_at_as_a_pasted_one(cedar: Browser, unit) -> None:
    lower = unit.toml().replace("over = 30\n", "over = 28\n", 1)
    page = send_file(cedar, lower.replace("\n", "\r\n").encode("utf-8-sig")).page
    assert "Plateau pressure: outside over was 30 →, now 28 cmH2O" in page.text
    assert cedar.submit("/policy/adopt", reason="from a file").path == "/policy"
    assert flat(tree_of(unit.toml()))["limits.plateau_pressure_obs.over"] == 28


@pytest.mark.parametrize(
    ("content", "status", "said"),
    [
        (b"", 422, "is missing"),
        (b"over = ", 422, "cannot be read as TOML"),
        (b"\xff\xfe\x00", 400, "not text in UTF-8"),
        (b"x" * 20_001, 400, "longer than 20000"),
        (b"#" * 1_100_000, 413, "more than one form can carry"),
    ],
    ids=["empty", "no TOML", "no text", "too long", "too large"],
)
def test_a_file_that_is_no_policy_is_refused(cedar: Browser, content, status, said) -> None:
    answer = send_file(cedar, content)
    assert (answer.status, said in answer.page.text) == (status, True)
