"""Every page at three widths by day and by night, as a browser draws it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser.gallery import SAMPLES
from tests.browser.gallery_server import Gallery

pytestmark = pytest.mark.xdist_group("browser")

PHONE, TABLET, DESK = 320, 768, 1440
SMALL_TARGETS = """() => {
  const half = 21;
  const owns = (target, x, y) => {
    const hit = document.elementFromPoint(x, y);
    return hit && (target.contains(hit) || hit.contains(target) && hit.matches('label'));
  };
  const inSentence = (target) =>
    target.matches('a') && getComputedStyle(target).display === 'inline';
  const small = [];
  const every = 'a, button, input:not([type=hidden]), select, textarea, summary';
  for (const target of document.querySelectorAll(every)) {
    if (inSentence(target) || target.matches('.skip') || !target.checkVisibility()) continue;
    target.scrollIntoView({ block: 'center' });
    const box = (target.closest('label') || target).getBoundingClientRect();
    if (box.width >= 44 && box.height >= 44) continue;
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    const reached = [[x - half, y], [x + half, y], [x, y - half], [x, y + half]]
      .every(([left, top]) => owns(target, left, top));
    if (!reached) small.push(`${target.outerHTML.slice(0, 90)} ${box.width}x${box.height}`);
  }
  return small;
}"""


CONTRAST_ONLY = {"resultTypes": ["violations"], "runOnly": ["color-contrast"]}


@pytest.fixture(scope="module", params=[PHONE, TABLET, DESK])
def width(request: pytest.FixtureRequest) -> int:
    return int(request.param)


@pytest.fixture(scope="module")
def context(browser: Browser, width: int) -> Iterator[BrowserContext]:
    opened = browser.new_context(
        viewport={"width": width, "height": 900}, color_scheme="light", has_touch=width < DESK
    )
    yield opened
    opened.close()


@pytest.fixture
def drawn(context: BrowserContext) -> Iterator[Page]:
    page = context.new_page()
    yield page
    page.close()


def violations(page: Page, **options: object) -> list[str]:
    found = Axe().run(page, **options).response["violations"]  # type: ignore[arg-type]
    return [
        f"{each['id']}: {'; '.join(node['html'][:120] for node in each['nodes'][:3])}"
        for each in found
    ]


@pytest.mark.parametrize("name", SAMPLES)
def test_a_page_is_whole_and_open_to_everybody(
    drawn: Page, gallery: Gallery, pictures: Path | None, name: str, width: int
) -> None:
    asked: list[str] = []
    faults: list[str] = []
    drawn.on("request", lambda request: asked.append(request.url))
    drawn.on("pageerror", lambda error: faults.append(str(error)))
    drawn.on("console", lambda line: faults.append(line.text) if line.type == "error" else None)
    drawn.goto(f"{gallery.origin}/{name}.html")

    assert not [url for url in asked if not url.startswith(gallery.origin)]
    assert not faults
    assert drawn.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
    keep(drawn, pictures, f"{name}-{width}-day")
    # What axe looks for differs between the narrowest and the widest layout, if anywhere.
    if width != TABLET:
        assert not violations(drawn)
    if width == PHONE:
        assert not drawn.evaluate(SMALL_TARGETS), "a finger needs 44 px"
        drawn.evaluate("scrollTo(0, 0)")
    # At night only the inks change, so only they are judged again.
    drawn.emulate_media(color_scheme="dark")
    if width == PHONE:
        assert not violations(drawn, options=CONTRAST_ONLY)
    keep(drawn, pictures, f"{name}-{width}-night")


def keep(page: Page, pictures: Path | None, name: str) -> None:
    """Keep a picture for whoever asked for pictures."""
    if pictures is not None:
        page.screenshot(path=pictures / f"{name}.png", full_page=True)


BETWEEN = (360, 414, 600, 703, 705, 900, 1024, 1119, 1121, 1200, 1280, 1366, 1409, 1920, 2560)
"""Widths on both sides of each change of layout, and of common screens."""


WIDER = "document.documentElement.scrollWidth > innerWidth"
# WCAG 2.2, success criterion 1.4.12: a reader may space text so far, and nothing may be lost.
SPACED = """() => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(`* { line-height: 1.5 !important; letter-spacing: 0.12em !important;
    word-spacing: 0.16em !important; } p { margin-bottom: 2em !important; }`);
  document.adoptedStyleSheets = [sheet];
}"""


@pytest.fixture(scope="module")
def desk(browser: Browser) -> Iterator[Page]:
    """One page for all that change nothing but its width."""
    page = browser.new_page()
    yield page
    page.close()


@pytest.mark.parametrize("name", SAMPLES)
def test_nothing_scrolls_sideways_at_any_width(desk: Page, gallery: Gallery, name: str) -> None:
    desk.goto(f"{gallery.origin}/{name}.html")
    too_wide = []
    for pixels in BETWEEN:
        desk.set_viewport_size({"width": pixels, "height": 900})
        if desk.evaluate(WIDER):
            too_wide.append(pixels)
    assert not too_wide
    # At a desk a wide table may scroll under such spacing; on a phone nothing does.
    desk.set_viewport_size({"width": PHONE, "height": 900})
    desk.evaluate(SPACED)
    assert not desk.evaluate(WIDER), "with a reader's own spacing"


def test_a_unit_of_24_beds_is_scanned_on_a_phones_screen_and_a_half(
    desk: Page, gallery: Gallery
) -> None:
    desk.set_viewport_size({"width": 390, "height": 844})
    desk.goto(f"{gallery.origin}/scan-full.html")
    beds = desk.locator(".scan-beds .bed, .scan-calm b")
    assert beds.count() == 24
    last = beds.last.bounding_box()
    assert last is not None
    assert last["y"] + last["height"] <= 844 * 1.5


HIDDEN_FOCUS = """() => {
  const focused = document.activeElement;
  if (focused === document.body) return '';
  const box = focused.getBoundingClientRect();
  const x = Math.min(Math.max(box.x + box.width / 2, 1), innerWidth - 2);
  const hit = document.elementFromPoint(x, box.y + box.height / 2);
  const cover = hit?.closest('.banner .whose, .banner, .savebar, .thumb');
  return cover && !cover.contains(focused) ? focused.outerHTML.slice(0, 120) : '';
}"""


@pytest.mark.parametrize("name", ["check-half", "bed", "handoff-empty"])
@pytest.mark.parametrize("width_of_screen", [PHONE, DESK])
def test_what_has_the_focus_is_never_under_a_bar(
    page: Page, gallery: Gallery, name: str, width_of_screen: int
) -> None:
    page.set_viewport_size({"width": width_of_screen, "height": 700})
    page.goto(f"{gallery.origin}/{name}.html")
    stops = page.locator("a, button, input:not([type=hidden]), select, textarea, summary").count()
    page.evaluate("document.activeElement.blur()")
    covered = []
    for _ in range(stops):
        page.keyboard.press("Tab")
        covered.append(page.evaluate(HIDDEN_FOCUS))
    assert not [place for place in covered if place]


def test_forced_colours_still_draw_every_state(browser: Browser, gallery: Gallery) -> None:
    context = browser.new_context(forced_colors="active")
    page = context.new_page()
    page.goto(f"{gallery.origin}/board.html")
    line = "getComputedStyle(document.querySelector('{}'), '::after').borderTopStyle"
    assert page.evaluate(line.format(".n-over .v")) == "solid"
    assert page.evaluate(line.format(".n-not-valid .v")) == "dotted"
    context.close()
