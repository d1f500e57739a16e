"""The calculator: the file calculator's answers by hand; what was typed stays; it keeps nothing."""

from collections.abc import Iterator, Mapping
from urllib.parse import urlencode

import pytest
from fastapi import FastAPI
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlalchemy import func, select

from app.charting.digits import MOST_DECIMALS
from app.pages.calculator import SHEETS, index_sheet
from app.pages.calculator_inputs import UNIT, Sheet
from app.pages.calculator_units import HAEMOGLOBIN, PRESSURES
from app.physiology.breathing import read_mode
from app.physiology.calculate import answer_cases
from app.physiology.catalogue import CATALOGUE
from app.physiology.vocabulary import TERMS
from app.record.database import Database
from app.record.tables import AuditLineRow, table_of
from app.rules.policy import starting_policy
from tests.client import Answer, Browser, browsing
from tests.clock import Clock
from tests.engines import Sqlite
from tests.published.sources import PublishedCase, published_cases
from tests.seen import Element
from tests.site import PASSWORD, hire, open_site

POLICY = starting_policy()


def ask(browser: Browser, sheet: str, **typed: str) -> Answer:
    query = {name.replace("__", "."): text for name, text in typed.items()}
    answer = browser.get(f"/calculator?{urlencode({'sheet': sheet, **query})}")
    assert answer.status == 200
    return answer


def part(answer: Answer, name: str) -> Element:
    return next(place for place in answer.page.root.all() if place["id"] == name)


def answers(place: Element) -> list[str]:
    return [each.text for each in place.all("div") if each["class"] == "answer"]


def beside(answer: Answer, field: str) -> str:
    """What stands beside a field, as its input says that it is described."""
    control = part(answer, field)
    ids = control["aria-describedby"].split()
    return " ".join(part(answer, each).text for each in ids)


@pytest.fixture
def ash(browser: Browser) -> Browser:
    browser.sign_in("ash", PASSWORD)
    return browser


@pytest.fixture(scope="module")
def plain_ash(sqlite: Sqlite) -> Iterator[Browser]:
    """On SQLite only and for all of them: the calculator writes nothing down."""
    clock = Clock()
    with sqlite.fresh() as database:
        hire(database, clock, "ash")
        with browsing(open_site(database, clock)) as browser:
            browser.sign_in("ash", PASSWORD)
            yield browser


# ---------- it agrees with the file calculator ----------


def typed_by_hand(case: PublishedCase) -> dict[str, str]:
    """A published case as somebody would type it into the form."""
    typed = {"index": case.index, "passive": "yes", "sample": "arterial"}
    typed |= {name: "" for name in ("passive", "sample") if name in case.inputs}
    for name, raw in case.inputs.items():
        if name in TERMS and raw is not None:
            typed[name] = str(raw) if not isinstance(raw, bool) else "yes" if raw else "no"
    for name, unit in case.units.items():
        typed[name if name in ("from", "to") else f"{UNIT}{name}"] = unit
    mode = next((case.inputs[word] for word in ("mode", "support") if word in case.inputs), None)
    if isinstance(mode, str):
        read = read_mode(mode)
        typed["family"] = read.family.code
        if read.support is not None:
            typed.setdefault("ps", str(read.support))
    return typed


def is_typed_like_that(case: PublishedCase) -> bool:
    """Whether the form offers what the case holds: its units, and no word that a list lacks."""
    return (
        case.index in CATALOGUE
        and case.state in ("value", "class")
        and case.units.get("out", "displayed") in ("displayed", CATALOGUE[case.index].unit)
        and "pressures" not in case.units
        and all(len(str(raw).partition(".")[2]) <= MOST_DECIMALS for raw in case.inputs.values())
    )


BY_HAND = [case for case in published_cases() if is_typed_like_that(case)]


def test_most_published_cases_can_be_typed_by_hand() -> None:
    assert len(BY_HAND) > 100


@pytest.mark.parametrize("case", BY_HAND, ids=str)
def test_a_published_case_typed_by_hand_shows_what_the_file_calculator_shows(
    case: PublishedCase,
) -> None:
    sheet = index_sheet(Sheet("index", typed_by_hand(case)), POLICY)
    (row,) = answer_cases([case.as_asked()])
    assert sheet.answer is not None
    assert sheet.answer.shown.text.replace("−", "-") == row["shown"], sheet.answer.said


def test_the_page_shows_number_unit_rounding_and_source(ash: Browser) -> None:
    typed = {"index": "pf_ratio", "pao2": "9.6", "unit__pao2": "kPa", "fio2": "0.4"}
    answer = ask(ash, "index", **typed, unit__fio2="fraction", sample="arterial")
    (text,) = answers(part(answer, "any-answer"))
    assert "180 mmHg" in text
    assert "before rounding 180.014" in text
    assert "Berlin definition" in answer.text


@pytest.mark.parametrize(
    ("index", "typed", "said"),
    [
        ("driving_pressure", {"pplat": "26", "peep_set": "12"}, "not answered"),
        ("driving_pressure", {"pplat": "26", "peep_set": "12", "passive": "no"}, "effort"),
        ("pf_ratio", {"pao2": "80", "fio2": "40"}, "Specimen is not known"),
        ("pf_ratio", {"pao2": "80", "fio2": "40", "sample": "venous"}, "not venous"),
        ("vt_per_pbw", {"vt": "400"}, "not known"),
    ],
)
def test_what_does_not_hold_gives_no_number_and_says_why(
    plain_ash: Browser, index: str, typed: Mapping[str, str], said: str
) -> None:
    answer = part(ask(plain_ash, "index", index=index, **typed), "any-answer")
    assert said in answer.text
    assert not [span for span in answer.all("span") if span["class"] == "v" and span.text]


# ---------- what was typed stays, and what is wrong stands beside it ----------


@pytest.mark.parametrize(
    ("field", "text", "said"),
    [
        ("pplat", "260", "Plateau pressure 260 cmH2O is over 90"),
        ("pplat", "2 6", "has a space inside"),
        ("pplat", "twenty", "is not a number"),
        ("pplat", "2.6.1", "more than one decimal point"),
        ("pplat", "26 mL", "does not measure"),
        ("pplat", "26 furlongs", "is not a unit known here"),
        ("pplat", "<script>alert(1)</script>", "Plateau pressure “<script>"),
    ],
)
def test_an_error_stands_beside_its_field_and_the_text_stays(
    plain_ash: Browser, field: str, text: str, said: str
) -> None:
    answer = ask(plain_ash, "index", index="driving_pressure", peep_set="12", **{field: text})
    control = part(answer, f"index-{field}")
    assert said in beside(answer, f"index-{field}")
    assert (control["value"], control["aria-invalid"]) == (text, "true")
    assert part(answer, "index-peep_set")["value"] == "12"


@pytest.mark.parametrize("text", ["26,0", "٢٦", "26 cmH2O", " 26 "])
def test_a_number_is_read_as_the_chart_reads_it(plain_ash: Browser, text: str) -> None:
    typed = {"index": "driving_pressure", "peep_set": "12", "passive": "yes"}
    answer = ask(plain_ash, "index", pplat=text, **typed)
    assert answers(part(answer, "any-answer"))[0].startswith("Driving pressure 14")


def test_an_unknown_index_shows_the_first_one(plain_ash: Browser) -> None:
    answer = ask(plain_ash, "index", index="nothing")
    chosen = [each.text for each in answer.page.root.all("option") if "selected" in each.attributes]
    assert chosen[0] == "Driving pressure"


@pytest.mark.parametrize("index", CATALOGUE)
def test_every_index_has_its_inputs_on_the_page(plain_ash: Browser, index: str) -> None:
    page = ask(plain_ash, "index", index=index)
    ids = {place["id"] for place in part(page, "any-inputs").all("input", "select")}
    needed = {f"index-{wanted.name}" for wanted in CATALOGUE[index].inputs if wanted.required}
    assert needed <= ids


# ---------- the three sheets ----------


def volumes(answer: Answer) -> list[tuple[str, str]]:
    rows = [row for row in part(answer, "volumes").all("tr") if list(row.all("td"))]
    return [(next(row.all("th")).text, next(row.all("td")).text) for row in rows]


def test_the_volume_table_runs_from_four_to_eight(ash: Browser) -> None:
    # 45.5 + 0.91 × (160 − 152.4) = 52.416 kg
    answer = ask(ash, "volume", sex="F", height="160")
    assert answers(part(answer, "volumes"))[0].startswith("Predicted body weight 52.4 kg")
    assert volumes(answer) == [("4", "210"), ("5", "262"), ("6", "314"), ("7", "367"), ("8", "419")]


def test_a_height_in_inches_gives_the_same_table(plain_ash: Browser) -> None:
    inches = ask(plain_ash, "volume", sex="M", height="70", unit__height="in")
    assert volumes(inches) == volumes(ask(plain_ash, "volume", sex="M", height="177.8"))


@pytest.mark.parametrize("typed", [{"height": "160"}, {"sex": "F"}, {"sex": "F", "height": "tall"}])
def test_without_sex_and_height_there_is_no_table(
    plain_ash: Browser, typed: Mapping[str, str]
) -> None:
    answer = ask(plain_ash, "volume", **typed)
    assert volumes(answer) == []
    assert answers(part(answer, "volumes"))


def test_a_child_has_no_table(plain_ash: Browser) -> None:
    answer = ask(plain_ash, "volume", sex="F", height="140", age_y="9")
    assert volumes(answer) == []
    assert "under 18 years" in answers(part(answer, "volumes"))[0]


GAUGE = {"pressure": "150", "residual": "20"}


def test_a_cylinder_lasts_by_its_printed_litres(ash: Browser) -> None:
    # 680 L × (150 − 20) / 200 = 442 L; at 4 L/min 110.5 min, rounded down.
    answer = ask(ash, "cylinder", **GAUGE, contents="680", full_pressure="200", flow="4")
    (text,) = answers(part(answer, "cylinder"))
    assert text.startswith("at this flow 110 min")
    assert "rounded down" in text


def test_a_cylinder_lasts_by_its_water_capacity(plain_ash: Browser) -> None:
    # 10 L × (100 − 10) bar = 900 L; at 6 L/min 150 min.
    typed = {"pressure": "100", "residual": "10", "water_capacity": "10", "flow": "6"}
    (text,) = answers(part(ask(plain_ash, "cylinder", **typed), "cylinder"))
    assert text.startswith("at this flow 150 min")


def test_a_ventilators_draw_stands_beside_its_worst_case(plain_ash: Browser) -> None:
    # 442 L; 8 × 0.39/0.79 + 2 = 5.949 L/min; at 100 %: 8 + 2 = 10 L/min.
    drawn = {"ve": "8", "fio2": "60", "bias_flow": "2"}
    answer = ask(plain_ash, "cylinder", **GAUGE, contents="680", full_pressure="200", **drawn)
    at_fio2, at_worst = answers(part(answer, "cylinder"))
    assert at_fio2.startswith("at this FiO2 74 min")
    assert at_worst.startswith("at worst, 100 % 44 min")


@pytest.mark.parametrize(("letter", "minutes"), [("D", "40"), ("E", "70"), ("M", "390")])
def test_a_letter_of_the_units_list_stands_for_its_factor(
    plain_ash: Browser, letter: str, minutes: str
) -> None:
    # (1200 − 200) psi × factor L/psi / 4 L/min
    gauge = {
        "pressure": "1200",
        "residual": "200",
        "unit__pressure": "psi",
        "unit__residual": "psi",
    }
    answer = ask(plain_ash, "cylinder", **gauge, letter=letter, flow="4")
    (text,) = answers(part(answer, "cylinder"))
    assert text.startswith(f"at this flow {minutes} min")


def test_the_letters_of_the_unit_stand_on_the_page_with_their_source(plain_ash: Browser) -> None:
    text = part(ask(plain_ash, "cylinder"), "cylinder").text
    assert "D 0.16, E 0.28, G 2.41, H 3.14, M 1.56" in text
    assert POLICY.cylinders.source in text


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({}, "in one way"),
        ({"contents": "680", "water_capacity": "3", "full_pressure": "200"}, "in two ways"),
        ({"contents": "680", "letter": "E"}, "in two ways"),
        ({"contents": "plenty"}, "cannot be read"),
    ],
)
def test_a_cylinder_is_described_in_one_way(
    plain_ash: Browser, typed: Mapping[str, str], said: str
) -> None:
    answer = ask(plain_ash, "cylinder", **GAUGE, flow="4", **typed)
    assert said in part(answer, "cylinder").text
    assert answers(part(answer, "cylinder")) == []


def test_without_a_reserve_there_are_no_minutes(plain_ash: Browser) -> None:
    answer = ask(plain_ash, "cylinder", pressure="150", water_capacity="3", flow="4")
    assert "Reserve held back is not known" in answers(part(answer, "cylinder"))[0]


@pytest.mark.parametrize(
    ("value", "unit", "others"),
    [
        ("12", "kPa", {"mmHg": "90.01", "cmH2O": "122.4", "mbar": "120", "psi": "1.74"}),
        ("-5", "cmH2O", {"mmHg": "−3.678", "hPa": "−4.903"}),
        ("9.5", "g/dL", {"g/L": "95"}),
        ("120", "g/L", {"g/dL": "12.0"}),
    ],
)
def test_a_quantity_stands_in_every_unit_that_measures_it(
    ash: Browser, value: str, unit: str, others: Mapping[str, str]
) -> None:
    texts = answers(part(ask(ash, "units", value=value, **{"from": unit}), "units"))
    kin = HAEMOGLOBIN if unit in HAEMOGLOBIN else PRESSURES
    assert len(texts) == len(kin) - 1
    for other, shown in others.items():
        assert [text for text in texts if text.startswith(f"in {other} {shown} {other}")]


def test_a_value_without_its_unit_is_asked_about(plain_ash: Browser) -> None:
    answer = ask(plain_ash, "units", value="12")
    assert "Choose the unit" in beside(answer, "units-from")


def test_grams_per_litre_in_another_field_are_asked_about(plain_ash: Browser) -> None:
    texts = answers(part(ask(plain_ash, "units", value="120", **{"from": "g/dL"}), "units"))
    assert "in which unit?" in texts[0]


# ---------- who, and what is kept ----------


@pytest.mark.parametrize("role", ["therapist", "lead", "reader", "student", "auditor"])
def test_everybody_who_is_signed_in_may_calculate(
    plain_app: FastAPI,
    plain_browser: Browser,
    sqlite_database: Database,
    clock: Clock,
    role: str,
) -> None:
    hire(sqlite_database, clock, "birch", role)
    plain_browser.sign_in("birch", PASSWORD)
    assert plain_browser.get("/calculator").status == 200
    assert "/calculator" in [link["href"] for link in plain_browser.get("/help").page.root.all("a")]


def test_nothing_of_it_is_written_down(ash: Browser, database: Database) -> None:
    lines = table_of(AuditLineRow)

    def written() -> int:
        with database.reading() as session:
            return session.execute(select(func.count()).select_from(lines)).scalar_one()

    before = written()
    ask(ash, "volume", sex="F", height="160")
    assert written() == before


TYPED = st.one_of(
    st.text(max_size=30),
    st.from_regex(r"-?[0-9]{1,7}([.,][0-9]{0,8})?( ?(kPa|mmHg|%|L|mL|psi))?", fullmatch=True),
    st.sampled_from(
        ["yes", "no", "F", "M", "ac_vc", "hfnc", "arterial", "0", "NaN", "1e9", "\x00"]
    ),
)
NAMES = (*TERMS, "letter", "pressure", *(f"{UNIT}{name}" for name in ("pao2", "fio2", "height")))


@given(
    sheet=st.sampled_from([*SHEETS, "", "nonsense"]),
    index=st.sampled_from([*CATALOGUE, "nothing"]),
    typed=st.dictionaries(st.sampled_from(NAMES), TYPED, max_size=14),
)
@settings(max_examples=150, deadline=None)
def test_no_input_breaks_the_calculator(
    plain_ash: Browser, sheet: str, index: str, typed: dict[str, str]
) -> None:
    query = urlencode({"sheet": sheet, "index": index, **typed})
    # An address with a null sign leads nowhere on this site, whatever the page.
    expected = 404 if "%00" in query else 200
    assert plain_ash.get(f"/calculator?{query}").status == expected
