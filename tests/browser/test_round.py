"""A round from the keyboard, on the real app in a real browser: the keys are counted."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page
from sqlalchemy import select

from app.record.tables import ReadingRow, table_of
from tests.browser.live_ward import LAST, Keys, LiveWard, sign_in

pytestmark = pytest.mark.xdist_group("browser")

READING = table_of(ReadingRow)
"""19:30 in the unit: the evening round."""

MONITOR = (("heart_rate", "88"), ("spo2", "94"), ("etco2_mmhg", "41"))
READ = (
    ("resp_rate_obs", "22"),
    ("tidal_volume_obs", "405"),
    ("minute_vent_obs", "9.1"),
    ("peak_inspiratory_pressure_obs", "28"),
    ("plateau_pressure_obs", "24"),
)


@pytest.fixture
def desk(browser: Browser, live: LiveWard) -> Iterator[Page]:
    """Ash at a desk at night; a mouse that moves is a fault."""
    context = browser.new_context(viewport={"width": 1440, "height": 900}, color_scheme="dark")
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    sign_in(page, live)
    yield page
    context.close()
    assert not faults


def open_check(page: Page, live: LiveWard, kind: str = "") -> Keys:
    page.goto(live.assess(kind=kind))
    page.evaluate("addEventListener('pointerdown', () => { throw new Error('a mouse'); })")
    return Keys(page)


def walk(keys: Keys, fields: tuple[tuple[str, str], ...]) -> None:
    for name, text in fields:
        assert keys.at == name
        keys(text)


def keep(keys: Keys, *names: str) -> None:
    walk(keys, tuple((name, "") for name in names))


def saved(page: Page, live: LiveWard) -> dict[str, tuple[str, str]]:
    """State and value of each reading of the newest row, once the browser is back at the bed."""
    page.wait_for_url(lambda address: "/assess" not in address)
    with live.database.reading() as session:
        rows = session.execute(select(READING).order_by(READING.c.id)).all()
    newest = rows[-1].assessment_id
    return {
        row.field: (row.state, row.word if row.number is None else f"{row.number:f}")
        for row in rows
        if row.assessment_id == newest
    }


def test_a_routine_unchanged_row_takes_at_most_41_keys_and_no_mouse(
    desk: Page, live: LiveWard
) -> None:
    live.chart({**LAST, "cuff_pressure_cmh2o": "26"}, hours_ago=4)
    keys = open_check(desk, live)
    walk(keys, MONITOR)
    keep(keys, "airway_depth_cm", "airway_side")
    keep(keys, "fio2_set", "peep_set", "tidal_volume_set", "resp_rate_set", "flow_rate_set")
    keep(keys, "trigger_flow_set")
    walk(keys, READ)
    assert keys.at == "hold_passive"
    keys("y", key="")
    walk(keys, (("peep_total", "13"),))
    keep(keys, "humidifier_temp_c")
    row = saved(desk, live)
    assert keys.pressed <= 41, keys.pressed
    assert [state for state, _ in row.values()].count("confirmed") == 9
    assert [row[name] for name, _ in MONITOR] == [("measured", text) for _, text in MONITOR]
    assert row["hold_passive"] == ("measured", "yes")


def test_with_the_cuff_typed_and_two_settings_changed_it_takes_at_most_46(
    desk: Page, live: LiveWard
) -> None:
    live.chart({**LAST, "cuff_pressure_cmh2o": "26"}, hours_ago=8)
    live.chart(LAST, hours_ago=4)
    keys = open_check(desk, live)
    walk(keys, MONITOR)
    keep(keys, "airway_depth_cm", "airway_side")
    walk(keys, (("cuff_pressure_cmh2o", "28"), ("fio2_set", "50"), ("peep_set", "14")))
    keep(keys, "tidal_volume_set", "resp_rate_set", "flow_rate_set", "trigger_flow_set")
    walk(keys, READ)
    keys("y", key="")
    walk(keys, (("peep_total", "15"),))
    keep(keys, "humidifier_temp_c")
    row = saved(desk, live)
    assert keys.pressed <= 46, keys.pressed
    assert (row["fio2_set"], row["peep_set"]) == (("changed", "50"), ("changed", "14"))
    assert row["cuff_pressure_cmh2o"] == ("measured", "28")


@pytest.mark.parametrize(
    ("downs", "field", "text"),
    [(1, "fio2_set", "50"), (2, "peep_set", "14"), (3, "tidal_volume_set", "380")],
)
def test_a_brief_row_after_a_change_takes_at_most_12(
    desk: Page, live: LiveWard, downs: int, field: str, text: str
) -> None:
    live.chart(LAST, hours_ago=1)
    keys = open_check(desk, live, "?kind=brief")
    assert keys.at == "spo2"
    keys("94", key="")
    for _ in range(downs):
        keys(key="ArrowDown")
    walk(keys, ((field, text), ("resp_rate_obs", "22")))
    row = saved(desk, live)
    assert keys.pressed <= 12, keys.pressed
    assert row == {
        "spo2": ("measured", "94"),
        "resp_rate_obs": ("measured", "22"),
        field: ("changed", text),
    }
