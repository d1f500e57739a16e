"""A course over time: every value is drawn and stands in a table; the address names the span."""

import json
import re
from typing import Any

from tests.client import Browser
from tests.clock import Clock
from tests.shifts.checks import chart
from tests.site import PASSWORD
from tests.ward import Ward

STIFF = {"plateau_pressure_obs": "34", "peak_inspiratory_pressure_obs": "40"}


def handed_over(html: str) -> dict[str, Any]:
    """The data for the library, by the key of each series."""
    found = re.search(r'id="trend-data">(.*?)</script>', html)
    assert found
    return {each["key"]: each for each in json.loads(found[1])["series"]}


def test_a_value_stands_in_the_drawing_and_in_the_table(ash: Browser, ward: Ward) -> None:
    chart(ash, ward, "L3", **STIFF)
    answer = ash.get(f"/courses/{ward.courses['L3']}/trends")
    (point,) = handed_over(answer.text)["driving_pressure"]["points"]
    assert (point["value"], point["drawn"]) == (22, "over")
    assert point["said"].endswith("22, over 15")
    assert any("22 over 15" in e.text for e in answer.page.root.all("tr"))


def test_an_older_value_is_in_the_longer_span_only(ash: Browser, ward: Ward, clock: Clock) -> None:
    chart(ash, ward, "L3", **STIFF)
    clock.forward(hours=8)
    ash.sign_in("ash", PASSWORD)
    page = f"/courses/{ward.courses['L3']}/trends"
    assert "Plateau" not in ash.get(f"{page}?over=6h").page.text
    assert "Plateau" in ash.get(f"{page}?over=12h").page.text


def test_a_span_that_is_none_is_the_usual_one(ash: Browser, ward: Ward) -> None:
    chart(ash, ward, "L3")
    asked = ash.get(f"/courses/{ward.courses['L3']}/trends?over=9y").page
    current = [e.text for e in asked.root.all("a") if e["aria-current"] and "over=" in e["href"]]
    assert current == ["24 h"]


def test_a_row_of_the_grid_carries_its_day_and_says_it(ash: Browser, ward: Ward, clock: Clock):
    bed = f"/courses/{ward.courses['L3']}"
    chart(ash, ward, "L3")
    assert not [e for e in ash.get(bed).page.root.all("svg") if "row-trend" in e["class"]]
    clock.forward(minutes=10)
    chart(ash, ward, "L3", heart_rate="92")
    lines = [e for e in ash.get(bed).page.root.all("svg") if "row-trend" in e["class"]]
    said = [e["aria-label"] for e in lines]
    assert any(words.startswith("Driving pressure: 2 values") for words in said)
    assert {e["role"] for e in lines} == {"img"}
    at = clock.now.strftime("%Y%m%dT%H%M%SZ")
    earlier = ash.get(f"{bed}?before={at}").page.root
    assert not [e for e in earlier.all("svg") if "row-trend" in e["class"]]
