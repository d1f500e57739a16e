"""Imports go one way: web, exchange → pages, actions → record → rules → charting → physiology."""

import sys
from pathlib import Path

import pytest

from tests.house.imports import ROOT, Import, imports_of, names_used, room_of, source_files

ORDER = (
    ("physiology",),
    ("charting",),
    ("rules",),
    ("record",),
    ("pages", "actions"),
    ("web", "exchange"),
    ("main",),
    ("commands",),
    ("cli",),
    ("__main__",),
)
RANK = {room: rank for rank, rooms in enumerate(ORDER) for room in rooms}

OPEN_TO_SETTINGS = {"web", "main", "commands", "cli"}
"""Below them nothing knows the environment, not even in the shape of settings."""

SESSION_TYPE = ("sqlmodel", "Session")
HOLDS_A_SESSION = {"actions", "web", "exchange", "commands"}
"""Whoever is handed an open session may name its type; queries are written in `record` alone."""

BESIDE_THE_LANGUAGE = {
    "physiology": {"pint", "msgspec"},
    "charting": {"pint", "msgspec", "cachetools"},
}
"""All that the two rooms know that everything else rests on, the standard library apart."""

DATABASE = {"sqlmodel", "sqlalchemy", "alembic", "psycopg", "sqlite3"}
HTTP = {"fastapi", "starlette", "jinja2", "uvicorn", "structlog"}
KNOWS_HTTP = {"web", "main", "commands"}

WORLD = {
    *("datetime.now", "datetime.utcnow", "datetime.today", "date.today", "datetime.datetime.now"),
    *("time.time", "time.monotonic", "time.perf_counter", "time.localtime", "time.gmtime"),
    *("os.environ", "os.getenv"),
}
WORLD_MODULES = {"time", "environs", "dotenv"}

EMPTY_NAMES = {"utils", "util", "helpers", "helper", "common", "core", "misc", "services", "crud"}

FILES = source_files()
BELOW_WEB = [file for file in FILES if RANK.get(room_of(file), 99) < RANK["web"]]


def name(file: Path) -> str:
    return str(file.relative_to(ROOT))


def goes_right(room: str, to: str) -> bool:
    if to == "settings":
        return room in OPEN_TO_SETTINGS
    return to == room or RANK[to] < RANK[room]


def may_use(room: str, one: Import) -> bool:
    """Whether a room may import a module of somebody else's."""
    if one.package in sys.stdlib_module_names and one.package not in DATABASE:
        return True
    if room in BESIDE_THE_LANGUAGE:
        return one.package in BESIDE_THE_LANGUAGE[room]
    if one.package in DATABASE:
        is_session = (one.module, one.name) == SESSION_TYPE and room in HOLDS_A_SESSION
        return room == "record" or is_session
    return one.package not in HTTP or room in KNOWS_HTTP


@pytest.mark.parametrize(
    ("room", "to", "expected"),
    [
        ("charting", "physiology", True),
        ("physiology", "charting", False),
        ("pages", "actions", False),
        ("actions", "pages", False),
        ("web", "exchange", False),
        ("exchange", "record", True),
        ("record", "record", True),
        ("rules", "settings", False),
        ("web", "settings", True),
        ("web", "main", False),
        ("cli", "commands", True),
    ],
)
def test_the_arrow_points_one_way(room: str, to: str, expected: bool):
    assert goes_right(room, to) is expected


@pytest.mark.parametrize(
    ("room", "module", "taken", "expected"),
    [
        ("physiology", "pint", "", True),
        ("physiology", "msgspec", "Struct", True),
        ("physiology", "decimal", "Decimal", True),
        ("rules", "pint", "", True),
        ("charting", "cachetools", "LRUCache", True),
        ("physiology", "cachetools", "LRUCache", False),
        ("charting", "pydantic", "", False),
        ("rules", "sqlmodel", "Session", False),
        ("actions", "sqlmodel", "Session", True),
        ("actions", "sqlmodel", "select", False),
        ("pages", "sqlite3", "", False),
        ("record", "sqlalchemy", "select", True),
        ("pages", "jinja2", "", False),
        ("exchange", "fastapi", "", False),
        ("exchange", "pyarrow", "", True),
        ("web", "fastapi", "", True),
    ],
)
def test_a_room_knows_its_own_tools_and_no_others(room, module, taken, expected: bool):
    assert may_use(room, Import(module, taken, "here")) is expected


def test_there_is_something_to_read():
    assert {"physiology", "charting", "rules", "record", "pages", "actions", "web"} <= {
        room_of(file) for file in FILES
    }


@pytest.mark.parametrize("file", FILES, ids=name)
def test_a_room_has_a_place_in_the_arrow(file: Path):
    assert room_of(file) in {*RANK, "settings", "__init__"}, "give the new room its place in ORDER"


@pytest.mark.parametrize("file", FILES, ids=name)
def test_a_file_imports_only_rooms_to_its_right(file: Path):
    room = room_of(file)
    wrong = [
        f"{one.place} imports {one.module}"
        for one in imports_of(file)
        if one.room and not goes_right(room, one.room)
    ]
    assert not wrong


@pytest.mark.parametrize("file", FILES, ids=name)
def test_a_file_uses_only_what_its_room_may_know(file: Path):
    room = room_of(file)
    wrong = [
        f"{one.place} imports {one.name or one.module} of {one.package}"
        for one in imports_of(file)
        if not one.room and one.package != "seed_demo" and not may_use(room, one)
    ]
    assert not wrong


@pytest.mark.parametrize("file", BELOW_WEB, ids=name)
def test_nothing_below_web_reads_the_clock_or_the_environment(file: Path):
    wrong = [f"{place} reads {used}" for used, place in names_used(file) if used in WORLD]
    wrong += [
        f"{one.place} imports {one.module}.{one.name}"
        for one in imports_of(file)
        if one.module in WORLD_MODULES
        or (one.module, one.name) in {("os", "environ"), ("os", "getenv")}
    ]
    assert not wrong, "take the moment or the setting as an argument"


@pytest.mark.parametrize(
    "folder", ["app", "tests", "seed_demo", "migrations", "templates", "static"]
)
def test_no_file_has_a_name_that_says_nothing(folder: str):
    paths = [path for path in (ROOT / folder).rglob("*") if "vendor" not in path.parts]
    assert paths
    assert not [name(path) for path in paths if path.stem.strip("_") in EMPTY_NAMES]
