"""One gallery and one Chromium for all browser tests of a run."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.gallery import ROOT, write
from tests.browser.gallery_server import Gallery, serve
from tests.browser.live_ward import LiveWard, live_ward
from tests.clock import Clock
from tests.engines import Sqlite
from tests.ward import EVENING

ARGUMENTS = (
    "--no-sandbox",
    "--disable-background-networking",
    "--disable-gpu",
    "--no-first-run",
    "--disable-component-update",
    "--disable-sync",
)


@pytest.fixture(scope="session")
def gallery(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Gallery]:
    folder = tmp_path_factory.mktemp("gallery")
    write(folder)
    served = Gallery()
    server = serve(folder, served)
    yield served
    server.shutdown()
    server.server_close()


# The first draws the same pages as the second without a window around them, for half the work.
BROWSERS = (
    "chromium-headless-shell",
    "chromium",
    "chromium-browser",
    "google-chrome",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
)


def found_browser() -> str:
    named = (os.environ.get("CHROMIUM", ""), *BROWSERS)
    found = next(filter(None, map(shutil.which, named)), None)
    if found is None:
        pytest.fail("These tests look at the pages: install the system's package `chromium`.")
    return found


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    found = found_browser()
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=found, args=list(ARGUMENTS))
        yield started
        started.close()


@pytest.fixture
def live(sqlite: Sqlite) -> Iterator[LiveWard]:
    """The ward behind a real address, with nothing charted yet."""
    with live_ward(sqlite, Clock(EVENING)) as served:
        yield served


@pytest.fixture
def page(browser: Browser, gallery: Gallery) -> Iterator[Page]:
    """A desk-wide page, nothing asked and nothing posted; it may break no rule of the site's."""
    gallery.forget()
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    opened = context.new_page()
    breaches: list[str] = []
    opened.on("pageerror", lambda error: breaches.append(str(error)))
    opened.on(
        "console",
        lambda line: breaches.append(line.text) if "Content Security Policy" in line.text else None,
    )
    yield opened
    context.close()
    assert not breaches


@pytest.fixture(scope="session")
def pictures() -> Path | None:
    """Where pictures of the pages are kept: in CI, and wherever somebody asked for them."""
    asked = os.environ.get("LEEBOARD_PICTURES", "")
    if not asked and not os.environ.get("CI"):
        return None
    folder = Path(asked) if asked else ROOT / "build" / "pictures"
    folder.mkdir(parents=True, exist_ok=True)
    return folder
