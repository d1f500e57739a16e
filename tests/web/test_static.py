"""Static files: kept for ever under their version, asked about again without one."""

import pytest

from app.web.assets import assets_folder, static_url, version_of
from tests.client import Browser


def test_the_address_of_a_file_holds_its_version():
    assert static_url("css/base.css") == f"/static/css/base.css?v={version_of('css/base.css')}"
    assert len(version_of("css/base.css")) == 12


def test_a_file_that_does_not_exist_has_no_address():
    with pytest.raises(FileNotFoundError):
        static_url("css/none.css")


def test_under_its_version_a_file_is_kept_for_a_year(plain_browser: Browser):
    kept = plain_browser.get(static_url("css/base.css")).headers["cache-control"]
    assert kept == "public, max-age=31536000, immutable"


@pytest.mark.parametrize("query", ["", "?v=", "?v=000000000000", "?w=1"])
def test_under_no_or_an_old_version_it_is_asked_about_again(plain_browser: Browser, query: str):
    answer = plain_browser.get(f"/static/css/base.css{query}")
    assert answer.headers["cache-control"] == "no-cache"
    again = plain_browser.get(
        f"/static/css/base.css{query}", headers={"If-None-Match": answer.headers["etag"]}
    )
    assert again.status == 304


def test_a_missing_file_is_not_kept_under_any_version(plain_browser: Browser):
    assert plain_browser.get("/static/css/none.css?v=1").headers["cache-control"] == "no-store"


def test_the_folders_are_there():
    assert (assets_folder("static") / "css").is_dir()
    assert (assets_folder("templates") / "base.html").is_file()
