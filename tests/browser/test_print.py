"""The handoff on paper: one sheet, black on white, and nothing lost that a reader must know."""

from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path
from unicodedata import normalize

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from app.pages.frame import CAUTIONS
from app.pages.site_words import PLAIN
from app.record.database import Database
from app.web.outage_files import write_set
from tests.browser.gallery_server import Gallery
from tests.clock import Clock
from tests.ward import open_ward

pytestmark = pytest.mark.xdist_group("browser")

COLOURED = """() => {
  const seen = new Set();
  for (const place of document.querySelectorAll('body, body *')) {
    if (!place.checkVisibility()) continue;
    const style = getComputedStyle(place);
    for (const tone of [style.color, style.backgroundColor, style.borderTopColor]) {
      const [red, green, blue] = tone.match(/[\\d.]+/g).map(Number);
      if (red !== green || green !== blue) seen.add(tone);
    }
  }
  return [...seen];
}"""


def printed(page: Page, sheet: str) -> PdfReader:
    return PdfReader(BytesIO(page.pdf(format=sheet)))


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
@pytest.mark.parametrize("name", ["handoff", "handoff-heavy", "handoff-empty"])
def test_a_handoff_prints_on_one_sheet(page: Page, gallery: Gallery, name: str, sheet: str) -> None:
    page.goto(f"{gallery.origin}/{name}.html")
    assert len(printed(page, sheet).pages) == 1


def test_the_sheet_says_whose_it_is_how_far_to_trust_it_and_when_to_destroy_it(
    page: Page, gallery: Gallery
) -> None:
    page.goto(f"{gallery.origin}/handoff.html")
    # A ligature on paper is still two letters to a reader.
    extracted = normalize("NFKC", printed(page, "A4").pages[0].extract_text())
    text = " ".join(extracted.split())
    wanted = ("P-05", "··4471", "Destroy after", "Printed", "Said back", "Accepted by", "1 of 1")
    assert not [words for words in wanted if words not in text]
    assert CAUTIONS[:60] in text


THREE_TIMES = """() => {
  const main = document.querySelector('main');
  const whole = [...main.children];
  for (const _ of [1, 2]) main.append(...whole.map((part) => part.cloneNode(true)));
}"""


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
@pytest.mark.parametrize("name", ["bed", "check", "handoff", "number", "draft"])
def test_every_sheet_says_whose_it_is(page: Page, gallery: Gallery, name: str, sheet: str) -> None:
    page.goto(f"{gallery.origin}/{name}.html")
    page.evaluate(THREE_TIMES)
    whose = [page.inner_text(f".whose .{part}").split()[-1] for part in ("name", "record")]
    told = [normalize("NFKC", each.extract_text()) for each in printed(page, sheet).pages]
    assert len(told) > 1
    assert not [text for text in told if not all(word in text for word in whose)]


def test_relative_ages_are_not_printed(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/handoff.html")
    assert "ago" in page.inner_text("main")
    assert "ago)" not in printed(page, "A4").pages[0].extract_text()


@pytest.mark.parametrize("name", ["board", "bed", "handoff"])
def test_paper_is_black_and_white(page: Page, gallery: Gallery, name: str) -> None:
    page.goto(f"{gallery.origin}/{name}.html")
    page.emulate_media(media="print", color_scheme="dark")
    assert page.evaluate(COLOURED) == []


def test_the_board_prints_with_every_bed(page: Page, gallery: Gallery) -> None:
    page.goto(f"{gallery.origin}/board.html")
    text = " ".join(sheet.extract_text() for sheet in printed(page, "A4").pages)
    assert not [bed for bed in ("L1", "L5", "L11", "L12") if bed not in text]


@pytest.mark.parametrize("sheet", ["A4", "Letter"])
def test_files_for_an_outage_print_without_a_server_and_every_sheet_says_whose_it_is(
    page: Page, sqlite_database: Database, tmp_path: Path, sheet: str
) -> None:
    now = datetime(2026, 11, 1, 6, 30, tzinfo=UTC)
    open_ward(sqlite_database, Clock(now))
    made = write_set(sqlite_database, PLAIN, tmp_path, now, timedelta(hours=24))
    page.goto((made.path / "handoff.html").as_uri())
    told = [normalize("NFKC", each.extract_text()) for each in printed(page, sheet).pages]
    assert "as of 01:30 EST" in told[0]
    whose = ("LR-2086", "LR-4471", "LR-6006", "LR-1919")
    assert {number for text in told[1:] for number in whose if number in text} == set(whose)
    assert not [text for text in told[1:] if sum(number in text for number in whose) != 1]
    assert not [text for text in told if f"of {len(told)}" not in text]
    page.emulate_media(media="print", color_scheme="dark")
    assert page.evaluate(COLOURED) == []
