"""What a screen reader is given of a page: Chromium's own accessibility tree, read in order."""

from collections.abc import Iterator
from typing import Any

from msgspec import Struct
from playwright.sync_api import Page

ENTRIES = frozenset({"textbox", "combobox", "checkbox", "radio", "spinbutton", "button"})


class Node(Struct, frozen=True):
    """One stop: what it is, what it is called, what is said of it, and within which groups."""

    role: str
    name: str
    description: str
    said: dict[str, Any]
    """Its states: "invalid", "focused", "live", "checked", "required"."""
    within: tuple[str, ...]


def heard(page: Page) -> list[Node]:
    """Every node that is not ignored, with the names of the groups and regions around it."""
    page.wait_for_load_state()
    session = page.context.new_cdp_session(page)
    nodes = session.send("Accessibility.getFullAXTree")["nodes"]
    session.detach()
    by_id = {node["nodeId"]: node for node in nodes}
    read = _in_order(nodes[0], by_id)
    return [_node(each, by_id) for each in read if not each.get("ignored")]


def the(page: Page, role: str, name: str) -> Node:
    """The one node of that role and name."""
    (found,) = [node for node in heard(page) if (node.role, node.name) == (role, name)]
    return found


def focused(page: Page) -> Node:
    """Where the keys go."""
    found = [node for node in heard(page) if node.said.get("focused") is True]
    return next(node for node in found if node.role != "RootWebArea")


def spoken(page: Page) -> list[str]:
    """The words in regions that are read out when they change."""
    script = """() => [...document.querySelectorAll('[role=status], [role=alert], [aria-live]')]
        .filter((place) => place.checkVisibility()).map((place) => place.textContent.trim())"""
    found: list[str] = page.evaluate(script)
    return [words for words in found if words]


def _in_order(raw: dict[str, Any], by_id: dict[str, dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """As it is read: Chromium lists the tree level by level."""
    yield raw
    for child in raw.get("childIds", ()):
        if child in by_id:
            yield from _in_order(by_id[child], by_id)


def _node(raw: dict[str, Any], by_id: dict[str, dict[str, Any]]) -> Node:
    return Node(
        _text(raw, "role"),
        _text(raw, "name"),
        _text(raw, "description"),
        {each["name"]: _state(each["value"].get("value")) for each in raw.get("properties", [])},
        tuple(_around(raw, by_id)),
    )


def _around(raw: dict[str, Any], by_id: dict[str, dict[str, Any]]) -> Iterator[str]:
    above = by_id.get(raw.get("parentId", ""))
    while above is not None:
        if _text(above, "role") in {"group", "region", "complementary"} and _text(above, "name"):
            yield _text(above, "name")
        above = by_id.get(above.get("parentId", ""))


def _text(raw: dict[str, Any], part: str) -> str:
    return str(raw.get(part, {}).get("value", "")).strip()


def _state(value: object) -> object:
    return {"true": True, "false": False}.get(value, value) if isinstance(value, str) else value
