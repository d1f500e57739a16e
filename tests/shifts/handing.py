"""What two people do at a handoff, through the pages: offer, read, accept; nothing is mocked."""

import json
from typing import Any

from tests.client import Answer, Browser
from tests.ward import Ward


def page_of(ward: Ward, bed: str, path: str = "") -> str:
    """The address of a bed's handoff page, or of one of its forms."""
    return f"/courses/{ward.courses[bed]}/handoff{path}"


def offer(
    browser: Browser,
    ward: Ward,
    bed: str,
    *,
    level: str = "low",
    reason: str = "Steady all shift",
    to: str = "",
) -> Answer:
    """Open the page and offer the bed."""
    browser.get(page_of(ward, bed))
    action = page_of(ward, bed, "/offer")
    staff = ward.staff[to] if to else ""
    return browser.submit(action, level=level, reason=reason, to=staff)


def accept(browser: Browser, ward: Ward, bed: str, *, restated: str = "", **more: Any) -> Answer:
    """Open the page, tick what has to be seen, say it back, accept."""
    action = page_of(ward, bed, "/accept")
    found = keys(browser.get(page_of(ward, bed)), action)
    seen = {"seen": found} if found else {}
    return browser.submit(action, **{"ticked": "yes", "restated": restated, **seen, **more})


def keys(page: Answer, action: str) -> list[str]:
    """The keys of the differences that a form on the page offers to tick."""
    return [e["value"] for e in page.page.form(action).all("input") if e["name"] == "seen"]


def said(browser: Browser, ward: Ward, bed: str, what: str, words: str) -> Answer:
    """Send one of the boxes: return, answer, take, late."""
    browser.get(page_of(ward, bed))
    return browser.submit(page_of(ward, bed, f"/{what}"), words=words)


def standing(browser: Browser, ward: Ward, bed: str) -> str:
    """The line that says where the handoff stands and who has the bed."""
    page = browser.get(page_of(ward, bed))
    return next(e.text for e in page.page.root.all("div") if e["id"] == "standing")


def stored(browser: Browser, ward: Ward, bed: str, version: int) -> bytes:
    """The frozen bytes of an offer."""
    address = f"/courses/{ward.courses[bed]}/handoffs/{version}/stored"
    return browser.get(address).response.content


def content(kept: bytes) -> dict[str, Any]:
    """What the frozen bytes hold."""
    return json.loads(kept)
