"""Any number opens: what the page says is what was shown, and a missing one says what it needs."""

import json
from collections.abc import Iterator

import pytest
from sqlalchemy import select

from app.charting.fields import FIELDS
from app.physiology.calculate import answer_text
from app.record.database import Database
from app.record.tables import AuditLineRow, table_of
from tests.client import Answer, Browser
from tests.clock import Clock
from tests.engines import Postgresql, Sqlite
from tests.seen import Element
from tests.shifts.checks import PLAIN, without_plateau
from tests.shifts.test_corrections import correct, row_links
from tests.shifts.ward_after import ward_after
from tests.site import PASSWORD
from tests.ward import Ward

GAS = {"gas_specimen": "arterial", "ph": "7.36", "paco2": "44", "pao2": "72"}
SUPPORT = {
    "mode_family": "csv_ps",
    "fio2_set": "40",
    "peep_set": "8",
    "pressure_support_set": "10",
    "trigger_flow_set": "2",
    "cycle_off_set": "25",
    "apnea_time_set": "20",
    "resp_rate_obs": "22",
    "tidal_volume_obs": "410",
    "minute_vent_obs": "9.0",
    "peak_inspiratory_pressure_obs": "19",
    "spo2": "95",
    "heart_rate": "90",
    "airway_depth_cm": "22",
    "cuff_pressure_cmh2o": "26",
}


def chart(browser: Browser, ward: Ward, bed: str = "L3", kind: str = "", **typed: str) -> Answer:
    action = f"/courses/{ward.courses[bed]}/assess"
    browser.get(action + kind)
    answer = browser.submit(action, **typed)
    assert answer.path == f"/courses/{ward.courses[bed]}", answer.page.text
    return answer


def numbers(page: Element) -> Iterator[tuple[str, str, str]]:
    """Key, shown text and address of every number that opens."""
    for place in page.all("span"):
        if place["data-key"]:
            stands = next(span for span in place.all("span") if span["class"] == "v")
            for link in stands.all("a"):
                yield place["data-key"], stands.text, link["href"]


def value_at(browser: Browser, address: str, key: str) -> str:
    """What the explanation shows as the value itself."""
    answer = browser.get(address)
    assert answer.status == 200
    return main_value(answer, key)


def main_value(answer: Answer, key: str) -> str:
    large = next(place for place in answer.page.root.all("p") if place["class"] == "large")
    place = next(span for span in large.all("span") if span["data-key"] == key)
    return next(span for span in place.all("span") if span["class"] == "v").text


def explained(browser: Browser, ward: Ward, key: str, bed: str = "L3") -> Answer:
    return browser.get(f"/courses/{ward.courses[bed]}/numbers/{key}")


def bare(text: str) -> str:
    """A number without the sign of a confirmed one and without the unit behind it."""
    return text.removeprefix("= ").partition(" ")[0]


def chart_l3_and_l5(ash: Browser, ward: Ward, clock: Clock) -> None:
    """Two checks and a gas in L3, support in L5."""
    ash.sign_in("ash", PASSWORD)
    chart(ash, ward, **PLAIN)
    clock.forward(minutes=10)
    chart(ash, ward, kind="?kind=gas", **GAS)
    clock.forward(hours=3)
    ash.sign_in("ash", PASSWORD)
    chart(ash, ward, **{**PLAIN, "plateau_pressure_obs": "28", "tidal_volume_obs": "425"})
    chart(ash, ward, "L5", **SUPPORT)


@pytest.fixture
def opened(
    request: pytest.FixtureRequest, engine: Sqlite | Postgresql, clock: Clock
) -> Iterator[tuple[Database, Ward]]:
    """The ward's record; charted in, where a test asks for that."""
    is_charted = "charted" in request.fixturenames
    with ward_after(engine, clock, chart_l3_and_l5 if is_charted else None) as made:
        yield made


@pytest.fixture
def charted(ash: Browser) -> Browser:
    """Ash, who has charted there."""
    return ash


@pytest.mark.parametrize("bed", ["L3", "L5", "L6", "L10"])
def test_every_number_of_the_bed_page_opens_to_a_page_that_shows_the_same(
    charted: Browser, ward: Ward, bed: str
) -> None:
    if bed in ("L6", "L10"):
        chart(charted, ward, bed, **PLAIN)
    found = list(numbers(charted.get(f"/courses/{ward.courses[bed]}").page.root))
    assert len(found) > 20
    differ = [
        (key, text, address)
        for key, text, address in dict.fromkeys(found)
        if bare(value_at(charted, address, key)) != bare(text)
    ]
    assert not differ


@pytest.mark.parametrize("path", ["/", "handoff"])
def test_every_number_of_the_board_and_the_handoff_page_opens_to_the_same(
    charted: Browser, ward: Ward, path: str
) -> None:
    address = f"/courses/{ward.courses['L3']}/handoff" if path == "handoff" else path
    found = list(numbers(charted.get(address).page.root))
    assert {"driving_pressure", "vt_per_pbw", "spo2"} <= {key for key, _, _ in found}
    assert not [
        (key, text) for key, text, href in found if bare(value_at(charted, href, key)) != bare(text)
    ]


CALCULATED = [
    (
        "driving_pressure",
        {"pplat": 28, "peep_set": 12, "peep_total": 12, "passive": True, "mode": "A/C-VC"},
    ),
    ("vt_per_pbw", {"vte": 425, "height": 160, "sex": "F"}),
    ("compliance_static", {"vte": 425, "driving_pressure": 16}),
    ("pf_ratio", {"pao2": 72, "fio2": 45, "sample": "arterial", "paco2": 44}),
    ("pbw", {"height": 160, "sex": "F"}),
]


@pytest.mark.parametrize(("index", "inputs"), CALCULATED, ids=[index for index, _ in CALCULATED])
def test_an_index_shows_the_file_calculators_number_and_source(
    charted: Browser, ward: Ward, index: str, inputs: dict
) -> None:
    case = {"id": "1", "index": index, "inputs": inputs, "units": {}}
    (answer,) = json.loads(answer_text(json.dumps([case])))
    page = explained(charted, ward, index)
    assert bare(main_value(page, index)) == answer["shown"]
    assert answer["source"].partition(": ")[2] in page.page.text


def test_a_number_opens_to_formula_inputs_times_authors_range_and_policy(
    charted: Browser, ward: Ward
) -> None:
    text = explained(charted, ward, "driving_pressure").page.text
    for words in (
        "plateau − total PEEP",
        "Pplat 28 cmH2O measured, 22:40",
        "PEEP total 12 cmH2O measured, 22:40",
        "Ash",
        "from total PEEP",
        "Over 15 cmH2O is outside the range this unit set.",
        "16 is over 15, once.",
        "Amato",
        "Starting policy, version",
        "Holds when A passive end-inspiratory hold",
    ):
        assert words in text


def test_the_number_before_rounding_stands_beside_the_one_that_is_shown(
    charted: Browser, ward: Ward
) -> None:
    # 425 / (45.5 + 0.91 × 7.6) = 8.108211…
    text = explained(charted, ward, "vt_per_pbw").page.text
    assert "8.1 mL/kg" in text
    assert "Before rounding 8.108211… mL/kg" in text


def test_without_a_plateau_the_page_says_why_and_exactly_what_it_would_need(
    ash: Browser, ward: Ward
) -> None:
    chart(ash, ward, **without_plateau("effort"))
    page = explained(ash, ward, "driving_pressure").page
    assert "Plateau not done: effort." in page.text
    assert needs(page.root) == [
        "Plateau pressure, cmH2O in the same check",
        "Patient passive during the hold in the same check",
    ]


def needs(page: Element) -> list[str]:
    (wanted,) = (place for place in page.all("ul") if place["class"] == "needs")
    return [line.text for line in wanted.all("li")]


def test_a_hold_of_which_nobody_said_whether_it_was_passive_needs_the_word(
    ash: Browser, ward: Ward
) -> None:
    chart(ash, ward, **without_plateau("unstable"))
    wanted = needs(explained(ash, ward, "auto_peep").page.root)
    assert sorted(wanted) == [
        "Patient passive during the hold in the same check",
        "Total PEEP, cmH2O in the same check",
    ]


def test_without_a_height_the_volume_needs_the_body_size(ash: Browser, ward: Ward) -> None:
    chart(ash, ward, "L6", **PLAIN)
    page = explained(ash, ward, "vt_per_pbw", "L6").page
    assert needs(page.root) == ["Height, cm with the patient's body size"]


def test_without_a_gas_the_ratio_needs_one(ash: Browser, ward: Ward) -> None:
    chart(ash, ward, **PLAIN)
    page = explained(ash, ward, "pf_ratio").page
    assert {"PaO2, mmHg with a blood gas", "Specimen with a blood gas"} <= set(needs(page.root))


def test_on_support_no_input_would_give_a_driving_pressure(charted: Browser, ward: Ward) -> None:
    page = explained(charted, ward, "driving_pressure", "L5").page
    assert "No valid hold in this mode (Pressure support)." in page.text
    assert "Nothing that could be charted here would give it." in page.text
    assert not [place for place in page.root.all("ul") if place["class"] == "needs"]


def test_a_childs_volume_says_that_adult_indices_are_off(ash: Browser, ward: Ward) -> None:
    chart(ash, ward, "L10", **PLAIN)
    page = explained(ash, ward, "vt_per_pbw", "L10").page
    assert "Adult index: not used under 18 years." in page.text
    assert "adult formulae, limits and rules are off" in page.text


def test_a_field_opens_to_how_it_is_entered_and_what_it_takes(charted: Browser, ward: Ward) -> None:
    text = explained(charted, ward, "peep_set").page.text
    for words in (
        "A setting: typed, or confirmed unchanged after looking at it.",
        "0 to 50 cmH2O",
        "confirmed: looked at, unchanged, 22:40",
        "This unit has set no range for it.",
    ):
        assert words in text


def test_what_was_typed_otherwise_than_it_is_kept_is_said(ash: Browser, ward: Ward) -> None:
    chart(ash, ward, **{**PLAIN, "fio2_set": "0.45"})
    assert "typed “0.45”" in explained(ash, ward, "fio2_set").page.text


def test_a_corrected_input_says_what_it_was_who_put_it_right_and_why(
    ash: Browser, ward: Ward
) -> None:
    (row,) = row_links(chart(ash, ward, **PLAIN))
    correct(ash, row, "plateau_pressure_obs", "28", why="read the wrong line")
    page = explained(ash, ward, "driving_pressure")
    assert bare(main_value(page, "driving_pressure")) == "16"
    assert "read the wrong line; was 26, written by Ash" in page.page.text
    assert "corrected" not in explained(ash, ward, "spo2").page.text


@pytest.mark.parametrize("key", ["plateau_pressure_obs", "driving_pressure"])
def test_a_number_of_a_struck_row_opens_and_says_that_it_no_longer_counts(
    ash: Browser, ward: Ward, key: str
) -> None:
    (row,) = row_links(chart(ash, ward, **PLAIN))
    page = explained(ash, ward, key).page.root
    (here,) = (place for place in page.all("section") if place["class"] == "past")
    (address,) = [href for _, _, href in numbers(here)]
    ash.get(row)
    ash.submit(f"{row}/strike", why="turned at that time")
    text = ash.get(address).page.text
    assert "struck 19:30, Ash: turned at that time" in text
    assert bare(main_value(ash.last, key)) == ("26" if key in FIELDS else "")


def test_an_ordered_band_says_who_ordered_it(charted: Browser, ward: Ward) -> None:
    text = explained(charted, ward, "spo2").page.text
    assert "88 to 95 %, ordered by Dr Oak" in text
    assert "94 is not under 88." in text


def test_each_of_its_values_opens_in_its_turn(charted: Browser, ward: Ward) -> None:
    page = explained(charted, ward, "plateau_pressure_obs").page
    (past,) = (place for place in page.root.all("section") if place["class"] == "past")
    assert [
        (bare(text), bare(value_at(charted, href, key))) for key, text, href in numbers(past)
    ] == [
        ("28", "28"),
        ("26", "26"),
    ]


def test_two_rows_of_one_moment_are_told_apart(ash: Browser, ward: Ward) -> None:
    chart(ash, ward, **PLAIN)
    chart(ash, ward, **{**PLAIN, "plateau_pressure_obs": "27"})
    page = ash.get(f"/courses/{ward.courses['L3']}").page.root
    row = next(row for row in page.all("tr") if row["data-key"] == "plateau_pressure_obs")
    shown = [(text, value_at(ash, href, key)) for key, text, href in numbers(row)]
    assert [(text, bare(same)) for text, same in shown] == [("26", "26"), ("27", "27")]


@pytest.mark.parametrize(
    "path", ["numbers/nothing", "numbers/convert_pressure", "numbers/spo2?at=20200101T000000Z"]
)
def test_what_was_never_charted_like_that_is_not_here(ash: Browser, ward: Ward, path: str) -> None:
    assert ash.get(f"/courses/{ward.courses['L3']}/{path}").status == 404


@pytest.mark.parametrize("at", ["yesterday", "", "20261126T003000Z&row=nobody"])
def test_an_odd_moment_shows_the_newest_or_nothing_and_never_fails(
    charted: Browser, ward: Ward, at: str
) -> None:
    answer = charted.get(f"/courses/{ward.courses['L3']}/numbers/spo2?at={at}")
    assert answer.status in (200, 404)


def test_a_bed_without_a_check_says_what_each_number_would_need(ash: Browser, ward: Ward) -> None:
    page = explained(ash, ward, "driving_pressure").page
    assert "No row of this course could answer it." in page.text
    assert "Plateau pressure, cmH2O in the same check" in needs(page.root)
    assert explained(ash, ward, "spo2").status == 200


def test_every_look_at_a_number_is_in_the_audit(
    ash: Browser, ward: Ward, database: Database
) -> None:
    explained(ash, ward, "spo2")
    lines = table_of(AuditLineRow)
    with database.reading() as session:
        found = session.execute(select(lines).where(lines.c.act == "view_page")).all()
    assert [(line.staff_id, line.course_id) for line in found] == [
        (ward.staff["ash"], ward.courses["L3"])
    ]


def test_an_auditor_opens_no_number(browser: Browser, ward: Ward) -> None:
    browser.sign_in("alder", PASSWORD)
    answer = browser.get(f"/courses/{ward.courses['L3']}/numbers/spo2")
    assert answer.status == 403
    assert "P-01" not in answer.text


def test_the_way_to_a_number_has_a_name(charted: Browser, ward: Ward) -> None:
    page = charted.get(f"/courses/{ward.courses['L3']}").page.root
    names = [a["aria-label"] for a in page.all("a") if "/numbers/driving_pressure" in a["href"]]
    assert "ΔP 16, how" in names
