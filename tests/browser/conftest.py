"""One gallery and one Chromium for all browser tests of a run."""

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.gallery import ROOT, write
from tests.browser.gallery_server import Gallery, serve

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


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    found = shutil.which("chromium")
    if found is None:
        pytest.fail("These tests look at the pages: install the system's package `chromium`.")
    with sync_playwright() as playwright:
        started = playwright.chromium.launch(executable_path=found, args=list(ARGUMENTS))
        yield started
        started.close()


@pytest.fixture
def page(browser: Browser, gallery: Gallery) -> Iterator[Page]:
    """A desk-wide page that starts with nothing asked and nothing posted."""
    gallery.forget()
    context = browser.new_context(viewport={"width": 1440, "height": 900})
    yield context.new_page()
    context.close()


@pytest.fixture(scope="session")
def pictures() -> Path:
    folder = Path(os.environ.get("LEEBOARD_PICTURES", str(ROOT / "build" / "pictures")))
    folder.mkdir(parents=True, exist_ok=True)
    return folder
