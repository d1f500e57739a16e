"""What every clinical page owes its reader: cautions, two identifiers, numbers that agree."""

import json
import re

import pytest
from structlog.testing import capture_logs

from app.pages.frame import CAUTIONS
from app.physiology.calculate import answer_text
from tests.client import Browser
from tests.shifts.checks import chart
from tests.ward import IDENTIFIERS, Ward

PATHS = (
    "",
    "/assess",
    "/assess?kind=gas",
    "/handoff",
    "/handoff/print",
    "/place",
    "/quiet",
    "/timeline",
)


@pytest.mark.parametrize("path", PATHS)
def test_every_clinical_page_carries_the_cautions(ash: Browser, ward: Ward, path: str) -> None:
    page = ash.get(f"/courses/{ward.courses['L3']}{path}").page
    assert CAUTIONS in page.text


def test_the_board_carries_the_cautions(ash: Browser) -> None:
    assert "Not a monitor or alarm" in ash.get("/").text


@pytest.mark.parametrize("path", PATHS)
def test_every_page_of_a_patient_shows_two_identifiers(ash: Browser, ward: Ward, path: str) -> None:
    text = ash.get(f"/courses/{ward.courses['L3']}{path}").page.text
    assert "P-01 Test" in text
    assert "LR-2086" in text


CASES = [
    ("vt_per_pbw", {"vt": 420, "height": 160, "sex": "F"}),
    (
        "driving_pressure",
        {"pplat": 26, "peep_set": 12, "peep_total": 12, "passive": True, "mode": "A/C-VC"},
    ),
    ("compliance_static", {"vt": 420, "driving_pressure": 14}),
    ("compliance_dynamic", {"vt": 420, "ppeak": 32, "peep": 12}),
    ("airway_resistance", {"ppeak": 32, "pplat": 26, "flow": 60, "flow_pattern": "constant"}),
    ("auto_peep", {"peep_total": 12, "peep_set": 12}),
    ("minute_ventilation", {"vt": 420, "rr": 20}),
    ("sf_ratio", {"spo2": 94, "fio2": 45}),
]


@pytest.mark.parametrize(("index", "inputs"), CASES, ids=[index for index, _ in CASES])
def test_the_bed_page_shows_what_the_file_calculator_answers(
    ash: Browser, ward: Ward, index: str, inputs: dict
) -> None:
    chart(ash, ward)
    case = {"id": "1", "index": index, "inputs": inputs, "units": {"height": "cm"}}
    (answer,) = json.loads(answer_text(json.dumps([case])))
    rows = ash.get(f"/courses/{ward.courses['L3']}").page.root.all("tr")
    row = next(row for row in rows if row["data-key"] == index)
    (cell,) = row.all("td")
    assert re.match(r"[\d.:]+", cell.text).group() == answer["shown"]


def test_no_log_line_names_a_patient_or_a_course(ash: Browser, ward: Ward) -> None:
    with capture_logs() as lines:
        chart(ash, ward)
        ash.get("/beds/L3")
        ash.get("/courses/nobody-at-all")
    said = json.dumps(lines, default=str)
    assert lines
    assert not [name for name in (*IDENTIFIERS, *ward.courses.values()) if name in said]
