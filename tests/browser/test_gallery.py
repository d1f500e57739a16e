"""Every page at three widths by day and by night, as a browser draws it."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import Browser, Page

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


WHAT_IS_WRONG: dict[str, object] = {"resultTypes": ["violations"]}
"""What is right is not written out: it was most of the work."""
CONTRAST_ONLY: dict[str, object] = {**WHAT_IS_WRONG, "runOnly": ["color-contrast"]}
ONE_RULE_FOR_MARKED = """() => axe.configure({
  rules: [{ id: 'color-contrast', selector: '[data-judged]' }]
})"""
# Texts with the same ink on the same ground have the same contrast, and a table repeats them by the
# hundred: three of each kind are judged. What is lifted out of the flow is a kind of its own.
MARK_THREE_OF_A_KIND = """() => {
  const PAINTS_NOTHING = 'rgba(0, 0, 0, 0),none,1,none,normal,visible,none,true';
  const grounds = new Map();
  const groundOf = (element) => {
    if (!element) return '';
    if (!grounds.has(element)) {
      const style = getComputedStyle(element);
      const flows = style.float === 'none' && (style.position === 'static' ||
        style.position === 'relative' && style.zIndex === 'auto' && style.inset === '0px');
      const own = [style.backgroundColor, style.backgroundImage, style.opacity, style.filter,
        style.mixBlendMode, style.overflow, style.transform, flows || grounds.size].join();
      const below = groundOf(element.parentElement);
      grounds.set(element, own === PAINTS_NOTHING ? below : `${below} ${own}`);
    }
    return grounds.get(element);
  };
  const kinds = new Map();
  for (const element of document.querySelectorAll('*')) {
    element.removeAttribute('data-judged');
    if (!element.checkVisibility({ visibilityProperty: true })) continue;
    const typed = element.matches('input, select, textarea');
    const text = typed ? `${element.value}${element.placeholder ?? ''}`
      : [...element.childNodes].map(each => each.nodeType === 3 ? each.data : '').join('');
    if (!typed && !text.trim()) continue;
    const style = getComputedStyle(element);
    const says = (text.match(/[\\p{L}\\p{N}]/gu) ?? []).length;
    const off = element.closest(':disabled, [aria-disabled=true]') || element.control?.disabled;
    const kind = [groundOf(element), typed && element.type, style.color, style.fontSize,
      style.fontWeight, style.textShadow, Math.min(says, 2), Boolean(off)].join();
    if (!kinds.has(kind)) kinds.set(kind, []);
    kinds.get(kind).push(element);
  }
  for (const all of kinds.values()) {
    for (const place of [0, all.length >> 1, all.length - 1]) all[place].dataset.judged = '';
  }
}"""
WIDER = "document.documentElement.scrollWidth > innerWidth"
# A word that is cut in two is read twice. One of more letters than a phone's column has may break.
CUT_WORDS = """() => {
  const cut = [];
  const words = /\\p{L}+/gu;
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  const isClipped = (element) => element !== null &&
    (getComputedStyle(element).clipPath !== 'none' || isClipped(element.parentElement));
  while (texts.nextNode()) {
    const text = texts.currentNode;
    const holder = text.parentElement;
    if (!holder.checkVisibility({ visibilityProperty: true })) continue;
    if (holder.closest('code, select, textarea, svg') || isClipped(holder)) continue;
    for (const found of text.data.matchAll(words)) {
      if (found[0].length > 18) continue;
      range.setStart(text, found.index);
      range.setEnd(text, found.index + found[0].length);
      const lines = new Set([...range.getClientRects()].map(box => Math.round(box.top)));
      if (lines.size > 1) cut.push(`${found[0]} in ${holder.outerHTML.slice(0, 80)}`);
    }
  }
  return cut;
}"""
SPILT_BUTTONS = """() => [...document.querySelectorAll('.button, button')]
  .filter(button => button.checkVisibility() && button.scrollWidth > button.clientWidth)
  .map(button => button.outerHTML.slice(0, 80))"""
# WCAG 2.2, success criterion 1.4.12: a reader may space text so far, and nothing may be lost.
SPACED = """() => {
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(`* { line-height: 1.5 !important; letter-spacing: 0.12em !important;
    word-spacing: 0.16em !important; } p { margin-bottom: 2em !important; }`);
  document.adoptedStyleSheets = [sheet];
}"""
BETWEEN = (360, 414, 600, 703, 705, 900, 1024, 1119, 1121, 1200, 1280, 1366, 1409, 1920, 2560)
"""Widths on both sides of each change of layout, and of common screens."""


class Drawn:
    """One tab for one sample after another: what each asked for and what went wrong in it."""

    def __init__(self, browser: Browser, *, touch: bool) -> None:
        self.context = browser.new_context(has_touch=touch)
        self.page = self.context.new_page()
        self.asked: list[str] = []
        self.faults: list[str] = []
        self.page.on("request", lambda request: self.asked.append(request.url))
        self.page.on("pageerror", lambda error: self.faults.append(str(error)))
        self.page.on("console", lambda line: line.type != "error" or self.faults.append(line.text))

    def open(self, gallery: Gallery, name: str, width: int) -> Page:
        """The sample by day, as it is first drawn; it asks nobody else and reports no fault."""
        self.page.emulate_media(color_scheme="light")
        self.resize(width)
        self.asked.clear()
        self.faults.clear()
        self.page.goto(f"{gallery.origin}/{name}.html")
        assert not [url for url in self.asked if not url.startswith(gallery.origin)]
        assert not self.faults
        return self.page

    def resize(self, width: int) -> None:
        self.page.set_viewport_size({"width": width, "height": 900})


@pytest.fixture(scope="module")
def phone(browser: Browser) -> Iterator[Drawn]:
    drawn = Drawn(browser, touch=True)
    yield drawn
    drawn.context.close()


@pytest.fixture(scope="module")
def desk(browser: Browser) -> Iterator[Drawn]:
    drawn = Drawn(browser, touch=False)
    yield drawn
    drawn.context.close()


def violations(page: Page, options: dict[str, object] = WHAT_IS_WRONG) -> list[str]:
    """What axe finds; its script is brought once into each page."""
    if page.evaluate("typeof axe === 'undefined'"):
        page.evaluate(AXE_SCRIPT)
        page.evaluate(ONE_RULE_FOR_MARKED)
    page.evaluate(MARK_THREE_OF_A_KIND)
    found = page.evaluate("options => axe.run(options).then(found => found.violations)", options)
    return [
        f"{each['id']}: {'; '.join(node['html'][:120] for node in each['nodes'][:3])}"
        for each in found
    ]


def keep(page: Page, pictures: Path | None, name: str) -> None:
    """Keep a picture of the page by day and one by night; it stands by day afterwards."""
    if pictures is None:
        return
    for scheme, light in (("dark", "night"), ("light", "day")):
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        path = pictures / f"{name}-{light}.jpg"
        page.screenshot(path=path, type="jpeg", quality=40, full_page=True)


@pytest.mark.parametrize("name", SAMPLES)
def test_a_page_is_whole_under_a_finger(
    phone: Drawn, gallery: Gallery, pictures: Path | None, name: str
) -> None:
    """On a phone and on a tablet; at night only the inks change, so only they are judged again."""
    page = phone.open(gallery, name, PHONE)
    assert not page.evaluate(WIDER)
    assert not page.evaluate(CUT_WORDS)
    assert not page.evaluate(SPILT_BUTTONS)
    assert not violations(page)
    keep(page, pictures, f"{name}-{PHONE}")
    assert not page.evaluate(SMALL_TARGETS), "a finger needs 44 px"
    page.emulate_media(color_scheme="dark")
    assert not violations(page, CONTRAST_ONLY)
    phone.resize(TABLET)
    assert not page.evaluate(WIDER)
    keep(page, pictures, f"{name}-{TABLET}")


@pytest.mark.parametrize("name", SAMPLES)
def test_a_page_is_whole_at_a_desk_and_at_any_width(
    desk: Drawn, gallery: Gallery, pictures: Path | None, name: str
) -> None:
    page = desk.open(gallery, name, DESK)
    assert not page.evaluate(WIDER)
    assert not violations(page)
    keep(page, pictures, f"{name}-{DESK}")
    too_wide = []
    for width in BETWEEN:
        desk.resize(width)
        if page.evaluate(WIDER):
            too_wide.append(width)
    assert not too_wide
    # At a desk a wide table may scroll under such spacing; on a phone nothing does.
    desk.resize(PHONE)
    page.evaluate(SPACED)
    assert not page.evaluate(WIDER), "with a reader's own spacing"


def test_one_weak_ink_among_many_good_ones_is_found(desk: Drawn, gallery: Gallery) -> None:
    """Texts of one kind are judged by three of them; one that differs is of another kind."""
    page = desk.open(gallery, "bed", DESK)
    numbers = page.locator("td .v a")
    assert numbers.count() > 20
    assert not violations(page, CONTRAST_ONLY)
    numbers.nth(11).evaluate("number => { number.style.color = '#999'; }")
    (found,) = violations(page, CONTRAST_ONLY)
    assert found.startswith("color-contrast")


def test_a_unit_of_24_beds_is_scanned_on_a_phones_screen_and_a_half(
    phone: Drawn, gallery: Gallery
) -> None:
    page = phone.open(gallery, "scan-full", 390)
    beds = page.locator(".scan-beds .bed, .scan-calm b")
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
