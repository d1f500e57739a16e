"""What DEVELOPERS.md names exists: a newcomer who follows it finds each file, module and name."""

import importlib
import re
from functools import reduce

import pytest

from tests.house.imports import ROOT

PROSE = re.sub(
    r"```.*?```", "", (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), flags=re.DOTALL
)
NAMED = sorted(set(re.findall(r"`([^`\n]+)`", PROSE)))
MADE_BY_A_RUN = {"build/pictures"}

FILES = [
    name
    for name in NAMED
    if re.fullmatch(r"[\w.-]+(/[\w.-]*)+|\w+\.(py|html|toml|lock)", name)
    and name not in MADE_BY_A_RUN
]
ROOMS = {path.name for path in (ROOT / "app").iterdir() if path.is_dir()}
DOTTED = [
    name for name in NAMED if re.fullmatch(r"\w+(\.\w+)+", name) and name.partition(".")[0] in ROOMS
]


def module_of(name: str) -> tuple[str, list[str]]:
    """The longest part of a dotted name that is a module, and what is named in it."""
    parts = ["app", *name.split(".")]
    for end in range(len(parts), 1, -1):
        path = ROOT.joinpath(*parts[:end])
        if path.is_dir() or path.with_suffix(".py").is_file():
            return ".".join(parts[:end]), parts[end:]
    return "app", parts[1:]


def test_there_is_something_to_look_for() -> None:
    assert len(FILES) > 30
    assert len(DOTTED) > 30


@pytest.mark.parametrize("name", FILES)
def test_a_file_is_there(name: str) -> None:
    ways = (ROOT.glob(name), *(ROOT.glob(f"{room}/**/{name}") for room in ("app", "templates")))
    assert any(next(iter(way), None) for way in ways), f"DEVELOPERS.md names {name}"


@pytest.mark.parametrize("name", DOTTED)
def test_a_module_and_what_is_named_in_it_are_there(name: str) -> None:
    module, inside = module_of(name)
    assert reduce(getattr, inside, importlib.import_module(module)), f"DEVELOPERS.md: {name}"
