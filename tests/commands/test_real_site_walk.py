"""A real site from nothing to its record's loss and back, on each engine, through the commands."""

import json
import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from app.actions.admit_patient import Admission, AirwayPlaced, admit_patient
from app.record.beds import find_bed
from app.record.database import Database
from app.record.people import find_by_sign_in_name
from app.record.units import list_units
from tests.commands.real_site import Operator
from tests.engines import ENGINES
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD, SECRET

NAMES = ("Juniper Walk", "WALK-0815")
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
    assert "it was empty" in operator.does("migrate")
    operator.does(
        *("unit", "add", "elm", "--name", "Unit Elm", "--zone", "Europe/Berlin"),
        *("--beds", "E1 E2 E3", "--shifts", "06:00 14:00 22:00"),
    )
    for name, role in (("rowan", "therapist"), ("sage", "lead")):
        words = ("user", "add", name, "--role", role, "--name", name.capitalize())
        operator.does(*words, "--password-file", "-", answers=f"{PASSWORD}\n")


def admit(url: str) -> str:
    """There is no page for it yet, so the action is called beside the running server."""
    database = Database(url)
    with database.writing(lambda: datetime.now(UTC)) as writing:
        session = writing.session
        writing.author_id = find_by_sign_in_name(session, "rowan").id
        (unit,) = list_units(session)
        course = admit_patient(
            writing,
            Admission(
                unit_id=unit.id,
                name=NAMES[0],
                record_number=NAMES[1],
                age_y=61,
                pbw_sex="M",
                height_cm=Decimal(178),
                height_method="supine_tape",
                support_started_at=writing.recorded_at - timedelta(hours=5),
                airway=AirwayPlaced("ett_oral", Decimal("7.5"), Decimal(22), "lip"),
                bed_id=find_bed(session, unit.id, "E2").id,
            ),
        )
    database.close()
    return course


def chart(visitor, course: str) -> None:
    visitor.signs_in("rowan", PASSWORD)
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
        course = admit(url)
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
    words = json.dumps(lines)
    for name in (*NAMES, course, "rowan", "sage", PASSWORD, SECRET, PLAIN["minute_vent_obs"]):
        assert name not in words
