"""Where a request may send the browser."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.web.links import local_path


@pytest.mark.parametrize("target", ["/", "/board", "/courses/7f3a?hours=24#now", "/a//b", "/é"])
def test_a_path_of_this_site_is_taken(target: str):
    assert local_path(target) == target


@pytest.mark.parametrize(
    "target",
    [
        "",
        "board",
        "//host",
        "///host",
        "/\\host",
        "\\\\host",
        "http://host",
        "/\thost",
        "/\nhost",
        " /",
    ],
)
def test_anything_else_leads_home(target: str):
    assert local_path(target) == "/"


@given(st.text(alphabet="/\\:.ab \t\n\r\x00?#@", max_size=12))
def test_no_target_names_another_host_as_a_browser_reads_it(target: str):
    """Browsers drop tabs and line ends and read a backslash as a slash (WHATWG URL standard)."""
    read = "".join(c for c in local_path(target) if c not in "\t\n\r").strip().replace("\\", "/")
    assert read.startswith("/")
    assert not read.startswith("//")
