"""A real site from nothing to its record's loss and back, on each engine, through the commands."""

import json
import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from tests.commands.real_site import Operator
from tests.engines import ENGINES
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD, SECRET

NAMES = ("Juniper Walk", "WALK-0815")
COMES = {
    "name": NAMES[0],
    "mrn": NAMES[1],
    "birth_date": "1965-03-09",
    "height_cm": "178",
    "height_method": "supine_tape",
    "pbw_sex": "M",
    "airway_category": "ett_oral",
    "airway_size_mm": "7.5",
    "airway_depth_cm": "22",
    "airway_depth_reference": "lip",
}
TIMES = ("timestamp", "ms")
on_each_engine = pytest.mark.parametrize("engine_name", ENGINES)


class Stores:
    """Where the record is, and a new place for it once it is lost."""

    def __init__(self, request: pytest.FixtureRequest, folder: Path, engine: str) -> None:
        self.request, self.folder, self.engine = request, folder, engine
        self.opened: list = []

    def new(self) -> str:
        """The URL of an empty store."""
        if self.engine == "sqlite":
            for file in self.folder.glob("site.sqlite3*"):
                file.unlink()
            return f"sqlite:///{self.folder / 'site.sqlite3'}"
        store = self.request.getfixturevalue("postgresql").fresh(migrated=False)
        self.opened.append(store)
        return store.__enter__().url.render_as_string(hide_password=False)

    def close(self) -> None:
        for store in self.opened:
            store.__exit__(None, None, None)


@pytest.fixture
def stores(request, tmp_path: Path, engine_name: str) -> Iterator[Stores]:
    opened = Stores(request, tmp_path, engine_name)
    yield opened
    opened.close()


def set_up(operator: Operator) -> None:
    assert "it was empty" in operator.begins("migrate")
    operator.does(
        *("unit", "add", "elm", "--name", "Unit Elm", "--zone", "Europe/Berlin"),
        *("--beds", "E1 E2 E3", "--shifts", "06:00 14:00 22:00"),
    )
    for name, role in (("rowan", "therapist"), ("sage", "lead")):
        words = ("user", "add", name, "--role", role, "--name", name.capitalize())
        operator.does(*words, "--password-file", "-", answers=f"{PASSWORD}\n")


def take_in(visitor) -> str:
    """A patient comes to E2; the course that the page leads to."""
    visitor.signs_in("rowan", PASSWORD)
    visitor.opens("/beds/E2/intake")
    began = datetime.now(UTC) - timedelta(hours=5)
    checked = visitor.sends(
        "/beds/E2/intake", **COMES, support_started_at=f"{began:%Y-%m-%dT%H:%M}"
    )
    found = re.fullmatch(r"/courses/(\w+)/assess", checked.url.path)
    assert found, visitor.page.text
    return found[1]


def chart(visitor, course: str) -> None:
    visitor.opens(f"/courses/{course}/assess")
    saved = visitor.sends(f"/courses/{course}/assess", **PLAIN)
    assert saved.url.path == f"/courses/{course}", visitor.page.text


@on_each_engine
def test_a_site_is_set_up_charted_backed_up_lost_and_restored(
    stores: Stores, tmp_path: Path
) -> None:
    url = stores.new()
    operator = Operator(url, tmp_path)
    set_up(operator)
    with operator.serving() as visitor:
        course = take_in(visitor)
        chart(visitor, course)
        told = operator.does("backup", "--to", str(tmp_path / "kept"))
        before = visitor.opens(f"/courses/{course}").text
    file, newest = told.split()[0], re.search(r"audit lines (\w{64})", told).group(1)

    operator.environment["LEEBOARD_DATABASE_URL"] = stores.new()
    operator.does("migrate")
    refused = operator.types("restore", damaged(Path(file)))
    assert (refused.returncode, "the file is damaged" in refused.stderr) == (2, True)
    assert f"the newest hash is {newest}" in operator.does("restore", file)
    assert "No difference" in operator.does("verify")
    again = operator.types("restore", file)
    assert (again.returncode, "not empty" in again.stderr) == (2, True)

    with operator.serving() as visitor:
        visitor.signs_in("rowan", PASSWORD)
        assert grid(visitor.opens(f"/courses/{course}").text) == grid(before)
    assert "No difference" in operator.does("verify")
    lines = [json.loads(line) for line in operator.log.read_text().splitlines()]
    check_log(lines, course, newest)


def damaged(file: Path) -> str:
    """A copy of which one byte is another."""
    content = bytearray(file.read_bytes())
    content[len(content) // 2] ^= 1
    copy = file.with_name("damaged.tar")
    copy.write_bytes(content)
    return str(copy)


def grid(html: str) -> list[str]:
    """The numbers of a bed page; times and proofs differ from one look to the next."""
    return re.findall(r'data-key="(\w+)">\s*<span class="v">\s*([^<]+?)\s*<', html)


def check_log(lines: list[dict], course: str, newest: str) -> None:
    """Every line is one of JSON, numbered where it belongs to a request, and names nobody."""
    kinds = [line["event"] for line in lines]
    assert {"request", "chain"} <= set(kinds)
    assert all(line["request_id"] for line in lines if line["event"] == "request")
    ends = [(line["when"], line["hash"]) for line in lines if line["event"] == "chain"]
    assert [when for when, _ in ends] == ["start", "stop", "start", "stop"]
    assert ends[2] == ("start", newest)
    # When and how long hold digits of their own.
    words = json.dumps([{k: v for k, v in line.items() if k not in TIMES} for line in lines])
    for name in (*NAMES, course, "rowan", "sage", PASSWORD, SECRET, PLAIN["minute_vent_obs"]):
        assert name not in words
