"""What the script adds: typing a round without a mouse, a board that refreshes, one save."""

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.gallery import render
from tests.browser.gallery_server import Gallery

pytestmark = pytest.mark.xdist_group("browser")

ASSESS = "/courses/5/assess"
POLL_MS = 15_000


def open_check(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/check.html")


def test_enter_confirms_one_empty_setting_and_moves_on(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.focus("#f-fio2_set")
    page.keyboard.press("Enter")
    assert page.is_checked("input[name=keep][value=fio2_set]")
    expect(page.locator("#f-peep_set")).to_be_focused()
    assert not page.is_checked("input[name=keep][value=peep_set]")


def test_enter_passes_what_is_not_asked_this_time(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.focus("#f-depth")
    page.keyboard.press("Enter")
    assert page.input_value("#f-depth_at") == ""
    expect(page.locator("#f-fio2_set")).to_be_focused()


def test_enter_never_fills_in_a_measured_value(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.focus("#f-rate_total")
    page.keyboard.press("Enter")
    assert page.input_value("#f-rate_total") == ""
    expect(page.locator("#f-vte")).to_be_focused()


def test_the_arrows_step_through_every_field_and_change_none(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.focus("#f-depth")
    for wanted in ("depth_at", "cuff", "fio2_set"):
        page.keyboard.press("ArrowDown")
        expect(page.locator(f"#f-{wanted}")).to_be_focused()
    page.keyboard.press("ArrowUp")
    expect(page.locator("#f-cuff")).to_be_focused()
    assert page.input_value("#f-depth_at") == ""
    assert not page.locator("input[name=keep]:checked").count()


def test_one_letter_answers_a_short_list(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.focus("#f-depth_at")
    expect(page.locator("#letters")).to_contain_text("t teeth")
    page.keyboard.press("t")
    assert page.input_value("#f-depth_at") == "teeth"
    expect(page.locator("#f-fio2_set")).to_be_focused()


def test_typing_over_a_kept_setting_takes_the_keeping_back(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.check("input[name=keep][value=peep_set]")
    page.focus("#f-peep_set")
    page.keyboard.type("10")
    assert not page.is_checked("input[name=keep][value=peep_set]")


def test_escape_brings_back_what_stood_there(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.focus("#f-heart_rate")
    page.keyboard.type("88")
    page.keyboard.press("Escape")
    assert page.input_value("#f-heart_rate") == ""


def test_escape_takes_a_confirmation_back(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.focus("#f-fio2_set")
    page.keyboard.press("Enter")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Escape")
    assert not page.is_checked("input[name=keep][value=fio2_set]")


def test_two_letters_say_that_a_value_was_not_measured_and_why(
    page: Page, gallery: Gallery
) -> None:
    open_check(page, gallery)
    page.focus("#f-pplat")
    page.keyboard.press("n")
    expect(page.locator("#letters")).to_contain_text("e effort")
    page.keyboard.press("e")
    assert page.input_value("select[name='reason.pplat']") == "effort"
    assert page.input_value("#f-pplat") == ""
    expect(page.locator("#f-peep_total")).to_be_focused()


def test_typing_a_value_takes_its_reason_back(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.select_option("select[name='reason.pplat']", "effort")
    page.focus("#f-pplat")
    page.keyboard.type("24")
    assert page.input_value("select[name='reason.pplat']") == ""


def test_a_letter_inside_a_unit_is_a_letter(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.focus("#f-rate_total")
    page.keyboard.type("22 /min")
    assert page.input_value("#f-rate_total") == "22 /min"


def test_a_slash_leads_to_a_field_by_its_name(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.focus("#f-heart_rate")
    page.keyboard.press("/")
    page.keyboard.type("plat")
    page.keyboard.press("Enter")
    expect(page.locator("#f-pplat")).to_be_focused()


def test_a_slash_opens_a_folded_group_for_its_field(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.focus("#f-heart_rate")
    page.keyboard.press("/")
    page.keyboard.type("remark")
    page.keyboard.press("Enter")
    expect(page.locator("#f-remark")).to_be_focused()


@pytest.mark.parametrize(("key", "window"), [("/", "#jump-window"), ("?", "#keys-window")])
def test_a_small_window_closes_back_to_the_field(
    page: Page, gallery: Gallery, key: str, window: str
) -> None:
    open_check(page, gallery)
    page.focus("#f-vte")
    page.keyboard.press(key)
    expect(page.locator(window)).to_be_visible()
    page.keyboard.press("Escape")
    expect(page.locator(window)).to_be_hidden()
    expect(page.locator("#f-vte")).to_be_focused()


def test_the_wheel_changes_no_number(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.fill("#f-heart_rate", "88")
    page.hover("#f-heart_rate")
    page.mouse.wheel(0, 300)
    assert page.input_value("#f-heart_rate") == "88"


def test_a_round_is_saved_with_what_was_typed_and_what_was_kept(
    page: Page, gallery: Gallery
) -> None:
    open_check(page, gallery)
    page.focus("#f-heart_rate")
    page.keyboard.type("88")
    page.focus("#f-fio2_set")
    page.keyboard.press("Enter")
    page.select_option("select[name='reason.pplat']", "effort")
    with page.expect_navigation():
        page.click("button.first")
    (sent,) = gallery.posts_to(ASSESS)
    wanted = [("heart_rate", "88"), ("keep", "fio2_set"), ("reason.pplat", "effort")]
    wanted += [("csrf", "sample-token"), ("save_key", "k-1"), ("kind", "full")]
    assert not [pair for pair in wanted if pair not in sent]
    assert ("keep", "peep_set") not in sent


SEND_TWICE = """() => {
  const form = document.getElementById('check');
  for (const _ of [1, 2]) form.requestSubmit(document.querySelector('button.first'));
}"""


def test_pressing_save_twice_sends_once(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    with page.expect_navigation():
        page.evaluate(SEND_TWICE)
    assert len(gallery.posts_to(ASSESS)) == 1


def test_indices_are_asked_for_while_typing_and_the_focus_stays(
    page: Page, gallery: Gallery
) -> None:
    gallery.answers[f"{ASSESS}/live"] = (200, "<dl class='live'><div><dt>S/F</dt></div></dl>")
    open_check(page, gallery)
    page.focus("#f-spo2")
    page.keyboard.type("94")
    expect(page.locator("#live")).to_have_text("S/F")
    expect(page.locator("#f-spo2")).to_be_focused()
    assert ("spo2", "94") in gallery.posts_to(f"{ASSESS}/live")[-1]


def test_another_mode_family_brings_its_fields_and_keeps_the_page(
    page: Page, gallery: Gallery
) -> None:
    gallery.answers[ASSESS] = (200, render("check").replace("Heart rate", "Pulse"))
    open_check(page, gallery)
    page.focus("#f-mode_family")
    page.select_option("#f-mode_family", "csv_ps")
    expect(page.locator("#fields")).to_contain_text("Pulse")
    expect(page.locator("#f-mode_family")).to_be_focused()
    assert page.input_value("#f-mode_family") == "csv_ps"
    assert ("show", "family") in gallery.posts_to(ASSESS)[-1]


def test_the_check_works_without_any_script(browser: Browser, gallery: Gallery) -> None:
    gallery.forget()
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    open_check(page, gallery)
    page.fill("#f-heart_rate", "88")
    page.check("input[name=keep][value=fio2_set]")
    page.click("button.first")
    page.wait_for_selector("text=Posted")
    (sent,) = gallery.posts_to(ASSESS)
    assert {("heart_rate", "88"), ("keep", "fio2_set")} <= set(sent)
    context.close()


def test_without_script_a_stray_enter_never_saves(browser: Browser, gallery: Gallery) -> None:
    gallery.forget()
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    open_check(page, gallery)
    page.press("#f-heart_rate", "Enter")
    page.wait_for_selector("text=Posted")
    assert ("show", "family") in gallery.posts_to(ASSESS)[-1]
    context.close()


def test_the_light_changes_at_once_and_typed_text_stays(page: Page, gallery: Gallery) -> None:
    open_check(page, gallery)
    page.fill("#f-heart_rate", "88")
    with page.expect_response("**/theme"):
        page.click("button[name=theme][value=night]")
    assert page.get_attribute("html", "data-theme") == "night"
    assert page.input_value("#f-heart_rate") == "88"
    page.wait_for_function("document.querySelector('[value=night]').ariaPressed === 'true'")
    assert ("theme", "night") in gallery.posts_to("/theme")[-1]


def test_the_form_begins_at_what_holds_it_up(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/check-half.html")
    expect(page.locator("#f-peep_set")).to_be_focused()
    page.click("text=Tidal volume, expired: 40 mL?")
    expect(page.locator("#f-vte")).to_be_focused()


def test_y_answers_the_question_beside_its_field_and_goes_on(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/check-half.html")
    page.focus("#f-vte")
    page.keyboard.press("y")
    assert page.is_checked("[name=accept][value='jump:vte:40']")
    assert page.input_value("#f-vte") == "40"
    expect(page.locator("#f-peep_set")).to_be_focused()


def test_a_question_about_the_whole_form_is_answered_over_it(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/check-half.html")
    page.focus("[value=not-filled]")
    page.keyboard.press("y")
    with page.expect_navigation():
        page.click("button.first")
    assert ("accept", "not-filled") in gallery.posts_to(ASSESS)[-1]


def test_a_record_that_cannot_be_written_is_read_first(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/check-not-saved.html")
    expect(page.locator("main [role=alert]").first).to_be_focused()


# ---------- the board's refresh ----------


def test_a_question_mark_shows_the_keys_of_any_page_until_it_is_turned_off(
    page: Page, gallery: Gallery
) -> None:
    page.goto(f"{gallery.origin}/bed.html")
    window = page.locator("#keys-window")
    page.keyboard.press("?")
    expect(window).to_be_visible()
    page.get_by_role("button", name="Turn the ? key off").click()
    page.keyboard.press("Escape")
    page.keyboard.press("?")
    expect(window).to_be_hidden()
    page.get_by_role("link", name="Keys ?").click()
    expect(window).to_be_visible()
    page.get_by_role("button", name="Turn the ? key on again").click()
    page.keyboard.press("Escape")
    page.keyboard.press("?")
    expect(window).to_be_visible()


def test_a_question_mark_in_a_field_is_a_question_mark(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/assignments.html")
    page.focus("#cover-words")
    page.keyboard.press("?")
    assert page.input_value("#cover-words") == "?"
    expect(page.locator("#keys-window")).to_be_hidden()


# ---------- beds below each other ----------


@pytest.mark.parametrize("name", ["board", "scan", "round", "mine"])
def test_arrows_go_from_bed_to_bed(page: Page, gallery: Gallery, name: str) -> None:
    page.goto(f"{gallery.origin}/{name}.html")
    ways = page.locator("[data-bed-way]")
    assert ways.count() > 1
    page.locator("[data-bed-row]").first.locator("a").last.focus()
    page.keyboard.press("ArrowDown")
    expect(ways.nth(1)).to_be_focused()
    page.keyboard.press("ArrowUp")
    expect(ways.nth(0)).to_be_focused()
    page.keyboard.press("ArrowUp")
    expect(ways.nth(0)).to_be_focused()


def test_arrows_outside_of_the_list_scroll_as_ever(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/board.html")
    page.keyboard.press("ArrowDown")
    assert page.evaluate("document.activeElement === document.body")


def open_board(page: Page, gallery: Gallery, status: int, body: str) -> None:
    gallery.answers["/board/rows"] = (status, body)
    page.clock.install()
    page.goto(f"{gallery.origin}/board.html")


def refresh(page: Page) -> None:
    with page.expect_response("**/board/rows*"):
        page.clock.run_for(POLL_MS)


def changed_board() -> str:
    start, end = '<div id="board"', '<p class="policy">'
    html = render("board")
    return html[html.index(start) : html.index(end)].replace("400 × 20", "380 × 20")


def test_an_unchanged_board_is_left_alone(page: Page, gallery: Gallery) -> None:
    open_board(page, gallery, 304, "")
    page.evaluate("document.querySelector('#board').dataset.same = 'yes'")
    refresh(page)
    assert page.get_attribute("#board", "data-same") == "yes"
    assert page.locator(".board tbody tr").count() == 12
    assert page.is_hidden("#board-lost")


def test_a_changed_board_keeps_focus_and_place(page: Page, gallery: Gallery) -> None:
    open_board(page, gallery, 200, changed_board())
    page.set_viewport_size({"width": 1440, "height": 500})
    page.focus("#bed-L8")
    before = page.evaluate("scrollY")
    refresh(page)
    expect(page.locator(".board")).to_contain_text("380 × 20")
    expect(page.locator("#bed-L8")).to_be_focused()
    assert page.evaluate("scrollY") == before
    expect(page.locator("#board-news")).to_have_text("The board has changed.")


def test_a_board_that_cannot_be_read_says_so_until_it_can(page: Page, gallery: Gallery) -> None:
    open_board(page, gallery, 503, "")
    refresh(page)
    expect(page.locator("#board-lost")).to_be_visible()
    assert page.locator(".board tbody tr").count() == 12
    gallery.answers["/board/rows"] = (304, "")
    refresh(page)
    expect(page.locator("#board-lost")).to_be_hidden()


def test_a_session_that_has_ended_leads_to_the_door_and_not_into_the_table(
    page: Page, gallery: Gallery
) -> None:
    open_board(page, gallery, 303, "/sign-in.html")
    with page.expect_navigation():
        page.clock.run_for(POLL_MS)
    assert page.locator("input[name=password]").count() == 0


def test_ages_follow_the_servers_clock(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/bed.html")
    newest = page.locator(".grid thead .latest time")
    expect(newest).to_have_text("01:40 (25 min ago)")
