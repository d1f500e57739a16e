"""What README.md and DEVELOPERS.md say of running a site is so: settings, service, rights."""

# ruff: noqa: S608 - names of our own tables

import configparser
import re
from pathlib import Path
from uuid import uuid4

import psycopg
import pytest
from sqlalchemy.exc import ProgrammingError
from sqlmodel import SQLModel
from typer.testing import CliRunner

from app.cli import main
from app.record.backup import make_backup
from app.record.database import Database
from app.record.tables import RECORD_TABLES
from app.settings import MEANINGS
from tests.client import Browser, browsing, filled_in
from tests.clock import Clock
from tests.engines import Postgresql
from tests.record.whole_record import MADE_AT
from tests.shifts.checks import PLAIN
from tests.site import PASSWORD, open_site
from tests.ward import Ward, open_ward

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
CHANGING = set(SQLModel.metadata.tables) - {t.name for t in RECORD_TABLES}


def block(kind: str) -> str:
    found = re.findall(rf"```{kind}\n(.*?)```", TEXT, re.DOTALL)
    assert len(found) == 1, f"DEVELOPERS.md has {len(found)} blocks of {kind}"
    return found[0]


def test_every_variable_stands_in_the_table_with_its_meaning():
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    rows = re.findall(r"^\| `(LEEBOARD_\w+)` \| (.*) \|$", readme, re.MULTILINE)
    assert rows == list(MEANINGS.items()), "copy the table from app.settings.MEANINGS"


def test_the_service_starts_a_command_that_there_is():
    unit = configparser.ConfigParser(interpolation=None, strict=False)
    unit.optionxform = str
    unit.read_string(block("ini"))
    words = unit["Service"]["ExecStart"].split()
    told = CliRunner().invoke(main, [words[1], "--help"], env={"COLUMNS": "200"}).stdout
    options = [word for word in words if word.startswith("--")]
    assert words[1] == "serve"
    assert options
    assert all(option in told for option in options)


@pytest.mark.parametrize("kind", ["nginx", "caddyfile"])
def test_a_proxy_leads_to_the_port_that_serve_listens_on(kind: str):
    told = CliRunner().invoke(main, ["serve", "--help"], env={"COLUMNS": "200"}).stdout
    assert "default: 8000" in told
    assert "127.0.0.1:8000" in block(kind)
    assert "leeboard.example" in block(kind)


def test_the_role_may_change_what_is_not_the_record_and_nothing_else():
    (names,) = re.findall(r"GRANT UPDATE, DELETE ON (.*) TO", block("sql"))
    assert set(names.split(", ")) == CHANGING


class Restricted:
    """A ward on PostgreSQL, and the record as the service's own role sees it."""

    def __init__(self, owner: Database, role: str) -> None:
        self.role = role
        self.database = Database(
            owner.url.set(username=role, password="unused").render_as_string(hide_password=False)
        )


@pytest.fixture
def restricted(postgresql: Postgresql, clock: Clock):
    role = f"app_{uuid4().hex[:8]}"
    with postgresql.fresh() as owner:
        plain = owner.url.set(drivername="postgresql").render_as_string(hide_password=False)
        with psycopg.connect(plain, autocommit=True) as admin:
            admin.execute(block("sql").replace("leeboard_app", role))
        ward = open_ward(owner, clock)
        site = Restricted(owner, role)
        yield site, ward
        site.database.close()
        with psycopg.connect(plain, autocommit=True) as admin:
            admin.execute(f"DROP OWNED BY {role}")
            admin.execute(f"DROP ROLE {role}")


def chart(browser: Browser, ward: Ward) -> None:
    action = f"/courses/{ward.courses['L3']}/assess"
    form = filled_in(browser.get(action).page.form(action))
    assert browser.send("POST", f"{action}/draft", data={**form, "spo2": "93"}).status == 200
    browser.get(action)
    assert browser.submit(action, **PLAIN).path == f"/courses/{ward.courses['L3']}"


def test_the_site_works_under_that_role(restricted, clock: Clock, tmp_path: Path):
    site, ward = restricted
    with browsing(open_site(site.database, clock)) as browser:
        assert browser.get("/healthz/ready").status == 200
        browser.sign_in("ash", PASSWORD)
        chart(browser, ward)
        assert browser.get("/").status == 200
        assert browser.submit("/sign-out").path == "/sign-in"
    assert make_backup(site.database, tmp_path, MADE_AT).manifest.rows > 0


@pytest.mark.parametrize("table", [table.name for table in RECORD_TABLES])
def test_that_role_has_no_right_to_change_a_row_of_the_record(restricted, table: str):
    site, _ = restricted
    key = next(iter(SQLModel.metadata.tables[table].primary_key.columns)).name
    for statement in (
        f"UPDATE {table} SET {key} = {key}",
        f"DELETE FROM {table}",
        f"TRUNCATE {table}",
        f"ALTER TABLE {table} DISABLE TRIGGER ALL",
    ):
        with pytest.raises(ProgrammingError) as refused, site.database.working() as session:
            session.connection().exec_driver_sql(statement)
        assert refused.value.orig.sqlstate == "42501"
