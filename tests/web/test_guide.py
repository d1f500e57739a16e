"""The guide answers of each page what it is, whether to trust it and what comes next."""

from collections.abc import Iterator

import pytest

from app.pages.guide_page import GUIDE
from tests.client import Browser, browsing
from tests.clock import Clock
from tests.site import PASSWORD, open_site
from tests.ward import open_ward


@pytest.fixture
def browser(sqlite_database, clock: Clock) -> Iterator[Browser]:
    open_ward(sqlite_database, clock)
    with browsing(open_site(sqlite_database, clock)) as browser:
        browser.sign_in("ash", PASSWORD, follow=False)
        yield browser


def test_every_page_leads_to_the_guide_and_each_entry_answers_three_questions(browser: Browser):
    assert any(e["href"] == "/help/guide" for e in browser.get("/").page.root.all("a"))
    text = browser.get("/help/guide").page.text
    for entry in GUIDE:
        assert entry.what in text
        assert entry.trust in text
        assert entry.act in text


def test_the_guide_directs_no_treatment():
    said = " ".join(f"{entry.what} {entry.trust} {entry.act}".lower() for entry in GUIDE)
    assert not [word for word in ("increase", "decrease", "wean", "sedate") if word in said]
