"""Numbers that open: by finger and by keyboard, and quiet until somebody points at one."""

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.gallery import render
from tests.browser.gallery_server import Gallery

pytestmark = pytest.mark.xdist_group("browser")

FINGER = """(where) => {
  const half = 21;
  const small = [];
  for (const link of document.querySelectorAll(where)) {
    if (!link.checkVisibility()) continue;
    link.scrollIntoView({ block: 'center' });
    const place = link.parentElement.getBoundingClientRect();
    const reach = getComputedStyle(link, '::after');
    const [x, bottom] = [place.x + place.width / 2, place.bottom - parseFloat(reach.bottom)];
    const y = bottom - parseFloat(reach.height) / 2;
    const wide = parseFloat(reach.width) >= 44 && parseFloat(reach.height) >= 44;
    const hits = [[x - half, y], [x + half, y], [x, y - half], [x, y + half]]
      .map(([left, top]) => document.elementFromPoint(left, top));
    const own = hits.filter((hit) => hit === link || link.contains(hit)).length;
    if (!wide || own < 3) small.push(`${link.ariaLabel} ${reach.width}x${reach.height} ${own}`);
  }
  return small;
}"""


@pytest.mark.parametrize(
    ("name", "where"), [("bed", ".now .v a"), ("board", ".board .v a"), ("number", ".inputs .v a")]
)
@pytest.mark.parametrize("width", [320, 390])
def test_a_number_that_stands_alone_can_be_hit_with_a_finger(
    browser: Browser, gallery: Gallery, name: str, where: str, width: int
) -> None:
    context = browser.new_context(viewport={"width": width, "height": 900}, has_touch=True)
    page = context.new_page()
    page.goto(f"{gallery.origin}/{name}.html")
    assert page.locator(where).count() > 5
    assert page.evaluate(FINGER, where) == []
    context.close()


@pytest.mark.parametrize(("name", "where"), [("bed", ".now .v a"), ("board", ".board .v a")])
def test_a_number_is_underlined_only_while_somebody_points_at_it(
    page: Page, gallery: Gallery, name: str, where: str
) -> None:
    page.goto(f"{gallery.origin}/{name}.html")
    link = page.locator(where).first
    expect(link).to_have_css("text-decoration-line", "none")
    link.hover(force=True)
    expect(link).to_have_css("text-decoration-line", "underline")
    page.mouse.move(0, 0)
    link.focus()
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Tab")
    expect(link).to_be_focused()
    expect(link).to_have_css("text-decoration-line", "underline")
    ring = "getComputedStyle(document.activeElement, '::after').outlineStyle"
    assert page.evaluate(ring) == "solid"


@pytest.mark.parametrize("name", ["bed", "board", "handoff"])
def test_paper_shows_no_link(page: Page, gallery: Gallery, name: str) -> None:
    page.goto(f"{gallery.origin}/{name}.html")
    page.emulate_media(media="print")
    lines = (
        "[...document.querySelectorAll('.v a')].map((a) => getComputedStyle(a).textDecorationLine)"
    )
    assert set(page.evaluate(lines)) <= {"none"}


def test_an_absence_opens_from_the_keyboard_and_has_a_name(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/bed.html")
    link = page.get_by_role("link", name="Resistance no flow charted, why")
    link.focus()
    page.keyboard.press("Enter")
    page.wait_for_url("**/courses/5/numbers/spo2")


def test_the_many_numbers_of_the_grid_can_be_skipped(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/bed.html")
    page.get_by_role("link", name="Skip over the checks").focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    in_grid = "document.activeElement.closest('.checks') !== null"
    assert not page.evaluate(in_grid)


# ---------- the calculator while somebody types ----------


def test_the_calculator_answers_while_somebody_types(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/calculator.html")
    gallery.answers["/calculator"] = (200, render("calculator-refused"))
    page.fill("#index-pplat", "26")
    expect(page.locator("#any-answer")).to_contain_text("An input cannot be read")
    expect(page.locator("#index-pplat")).to_have_value("26")


def test_another_index_brings_its_own_inputs_without_a_button(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/calculator.html")
    gallery.answers["/calculator"] = (200, render("calculator-refused"))
    page.select_option("#index-key", "compliance_static")
    expect(page.locator("#index-driving_pressure")).to_be_visible()
    assert page.url.endswith("/calculator.html")


def test_the_calculator_works_without_a_script(browser: Browser, gallery: Gallery) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(f"{gallery.origin}/calculator.html")
    gallery.answers["/calculator"] = (200, render("calculator-volumes"))
    page.select_option("#volume-sex", "F")
    page.fill("#volume-height", "160")
    page.get_by_role("button", name="Show the volumes").click()
    assert "sheet=volume&sex=F&height=160" in page.url
    expect(page.get_by_role("row", name="6 314")).to_be_visible()
    context.close()
