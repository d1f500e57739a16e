"""Trends as a browser draws them: by day, by night, walked by keys; in small where it cannot."""

import json
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser.gallery_server import Gallery

pytestmark = pytest.mark.xdist_group("browser")

COLUMN = """([key, at]) => {
  // How many points of each ink stand in the one column of a drawing that belongs to a moment.
  const holder = document.querySelector(`[data-trend="${key}"]`);
  const canvas = holder.querySelector('canvas');
  const data = JSON.parse(document.getElementById('trend-data').textContent);
  const whole = canvas.getBoundingClientRect();
  const plot = holder.querySelector('.u-over').getBoundingClientRect();
  const share = (at - data.from_at) / (data.to_at - data.from_at);
  const scale = canvas.width / whole.width;
  const x = Math.round((plot.x - whole.x + share * plot.width) * scale);
  const [top, high] = [Math.round((plot.y - whole.y) * scale), Math.round(plot.height * scale)];
  const seen = canvas.getContext('2d').getImageData(x, top, 1, high).data;
  const inks = getComputedStyle(document.documentElement);
  const count = (name) => {
    const tones = inks.getPropertyValue(`--${name}`).match(/[0-9a-f]{2}/g);
    const wanted = tones.map((tone) => parseInt(tone, 16));
    let found = 0;
    for (let i = 0; i < seen.length; i += 4) {
      found += seen[i + 3] > 200 && wanted.every((tone, n) => Math.abs(tone - seen[i + n]) < 12);
    }
    return found;
  };
  return Object.fromEntries(['ink', 'ink-2', 'ink-3', 'lift', 'worry'].map((n) => [n, count(n)]));
}"""
HOUR = 3600


class Shown:
    """The page of trends and what it hands over to the library."""

    def __init__(self, page: Page) -> None:
        self.page = page
        text = page.locator("#trend-data").text_content()
        assert text
        self.data: dict[str, Any] = json.loads(text)
        self.series = {each["key"]: each for each in self.data["series"]}

    def inks(self, key: str, at: float) -> dict[str, int]:
        """How much of each ink the column of that moment holds."""
        found: dict[str, int] = self.page.evaluate(COLUMN, [key, at])
        return found

    def at(self, key: str, number: int) -> float:
        """The moment of one of its points."""
        return float(self.series[key]["points"][number]["at"])

    def plot(self, key: str) -> Locator:
        return self.page.locator(f"[data-trend={key}]")

    def said(self, key: str) -> Locator:
        return self.page.locator(f"section:has(> [data-trend={key}]) [data-trend-said]")


@pytest.fixture
def shown(page: Page, gallery: Gallery) -> Shown:
    page.emulate_media(color_scheme="light")
    page.goto(f"{gallery.origin}/trends.html")
    page.wait_for_selector("[data-trend] canvas")
    return Shown(page)


@pytest.mark.parametrize("light", ["light", "dark"])
def test_steps_points_lines_gaps_and_limits_are_drawn_in_the_inks_of_the_hour(
    shown: Shown, light: str
) -> None:
    shown.page.emulate_media(color_scheme=light)  # type: ignore[arg-type]
    shown.page.wait_for_timeout(50)
    between = [shown.at("peep_set", n) + 2 * HOUR for n in range(4)]
    assert all(shown.inks("peep_set", at)["ink"] for at in between), "a setting is a step"
    plateau = [shown.inks("plateau_pressure_obs", at)["ink"] for at in between]
    assert plateau == [0, 0, 0, 0], "measured values are not joined"
    assert shown.inks("plateau_pressure_obs", shown.at("plateau_pressure_obs", 0))["ink"]
    driving = [bool(shown.inks("driving_pressure", at)["ink-2"]) for at in between]
    assert driving == [True, False, False, True], "a gap where the index does not hold"
    assert shown.inks("driving_pressure", between[1])["lift"] > 5, "beyond the limit is shaded"
    assert shown.inks("driving_pressure", shown.at("driving_pressure", 1))["worry"]


def test_a_correction_and_a_struck_value_stay_to_see(shown: Shown) -> None:
    points = shown.series["plateau_pressure_obs"]["points"]
    assert [point["was"] for point in points] == [None, 36, None, None, None]
    struck = next(n for n, point in enumerate(points) if point["drawn"] == "struck")
    for number in (1, struck):
        assert shown.inks("plateau_pressure_obs", points[number]["at"])["ink-3"]


def test_the_tables_hold_every_value_that_is_drawn(shown: Shown) -> None:
    for key, series in shown.series.items():
        cells = shown.page.locator(f"section:has(> [data-trend={key}]) tbody .num")
        texts = [text.strip() for text in cells.all_text_contents()][::-1]
        numbers = [float(text) for text in texts if text not in ("", "none")]
        drawn = [p["value"] for p in series["points"] if p["drawn"] not in ("held", "none")]
        assert numbers == drawn, key


def test_the_arrows_walk_the_values_and_every_drawing_follows(shown: Shown) -> None:
    plot, heard = shown.plot("driving_pressure"), shown.page.locator("#trend-heard")
    points = shown.series["driving_pressure"]["points"]
    plot.focus()
    for key, number in (("ArrowLeft", -1), ("ArrowLeft", -2), ("Home", 0), ("ArrowRight", 1)):
        plot.press(key)
        expect(shown.said("driving_pressure")).to_have_text(points[number]["said"])
        expect(heard).to_have_text(f"Driving pressure: {points[number]['said']}")
    assert points[1]["said"].endswith("over 15")
    peep = shown.series["peep_set"]["points"][1]["said"]
    expect(shown.said("peep_set")).to_have_text(peep)
    expect(shown.plot("peep_set").locator(".u-cursor-x")).to_be_visible()
    plot.press("Escape")
    expect(shown.said("peep_set")).to_have_text(shown.series["peep_set"]["summary"])
    expect(heard).to_be_empty()


def test_the_pointer_reads_what_lies_nearest(shown: Shown) -> None:
    shown.plot("spo2").locator(".u-over").hover(position={"x": 300, "y": 20})
    shown.plot("spo2").locator(".u-over").hover(position={"x": 560, "y": 20})
    expect(shown.said("spo2")).to_have_text(shown.series["spo2"]["points"][-1]["said"])


def test_events_are_marked_and_read(shown: Shown) -> None:
    event = shown.data["events"][-1]
    assert shown.page.get_by_role("listitem").filter(has_text="Turned prone").count() == 1
    strip = shown.page.locator("[data-trend-events]")
    strip.focus()
    strip.press("End")
    expect(shown.page.locator("#trend-heard")).to_have_text(f"What happened: {event['said']}")


def test_on_paper_and_without_scripts_the_small_pictures_stand_there(
    shown: Shown, browser: Browser, gallery: Gallery
) -> None:
    small = "section:has(> [data-trend=driving_pressure]) .row-trend"
    expect(shown.page.locator(small)).to_be_hidden()
    shown.page.emulate_media(media="print")
    expect(shown.page.locator(small)).to_be_visible()
    expect(shown.plot("driving_pressure")).to_be_hidden()
    context = browser.new_context(java_script_enabled=False)
    plain = context.new_page()
    plain.goto(f"{gallery.origin}/trends.html")
    expect(plain.locator(small)).to_be_visible()
    expect(plain.locator("[data-trend=driving_pressure]")).to_be_hidden()
    context.close()
