"""What an offer froze is read back bit for bit, whatever has changed since."""

import hashlib
from pathlib import Path

import pytest
from fastapi import FastAPI
from jinja2 import ChoiceLoader, DictLoader

from app.record.beds import move, unit_beds
from app.record.database import Database
from app.record.tables import PolicyRow
from app.rules.policy import STARTING_POLICY_FILE
from app.web.templating import template_environment
from tests.client import Browser
from tests.clock import Clock
from tests.shifts.checks import chart
from tests.shifts.handing import content, offer, page_of, stored
from tests.ward import Ward


@pytest.fixture
def offered(ash: Browser, ward: Ward) -> Browser:
    """Ash has charted L3 and offered it."""
    chart(ash, ward, "L3")
    offer(ash, ward, "L3", to="birch")
    return ash


def change_templates(app: FastAPI) -> None:
    """As if the next version of the program drew every part of the page in another way."""
    drawn = template_environment()  # this site's alone: the process's own draws as ever
    other = dict.fromkeys(
        ("parts/_snapshot.html", "parts/_section.html", "parts/_banner.html"), "Drawn anew"
    )
    drawn.loader = ChoiceLoader([DictLoader(other), drawn.loader])
    app.state.site.pages._environment = drawn


def change_policy(database: Database, ward: Ward, clock: Clock) -> None:
    toml = Path(STARTING_POLICY_FILE).read_text(encoding="utf-8")
    stricter = toml.replace("over = 15", "over = 12")
    assert stricter != toml
    with database.writing(clock, ward.staff["cedar"]) as writing:
        row = PolicyRow(
            unit_id=ward.unit_id,
            version=99,
            toml=stricter,
            reason="stricter",
            in_force_from=clock(),
        )
        writing.add(row)
        writing.audit("change_policy", subject=row)


def test_the_bytes_are_the_same_after_templates_and_policy_have_changed(
    offered: Browser, ward: Ward, app: FastAPI, database: Database, clock: Clock
) -> None:
    before = stored(offered, ward, "L3", 1)
    change_templates(app)
    change_policy(database, ward, clock)
    chart(offered, ward, "L3", peep_set="8", peep_total="8")
    assert "Drawn anew" in offered.get(page_of(ward, "L3")).text
    assert stored(offered, ward, "L3", 1) == before
    page = offered.get(f"/courses/{ward.courses['L3']}/handoffs/1")
    assert content(before)["fragment"] in page.text


def test_the_hash_on_the_page_is_the_hash_of_the_bytes(offered: Browser, ward: Ward) -> None:
    digest = hashlib.sha256(stored(offered, ward, "L3", 1)).hexdigest()
    assert digest in offered.get(f"/courses/{ward.courses['L3']}/handoffs/1").page.text


def test_it_holds_no_token_no_form_and_no_age(offered: Browser, ward: Ward) -> None:
    fragment = content(stored(offered, ward, "L3", 1))["fragment"]
    for word in ("csrf", "nonce", "<form", "<input", "<script", "data-age", " ago", "save_key"):
        assert word not in fragment


def test_it_holds_what_was_on_the_page_and_the_version_of_its_style(
    offered: Browser, ward: Ward
) -> None:
    held = content(stored(offered, ward, "L3", 1))
    assert (held["version"], len(held["style"])) == (1, 12)
    assert [section["key"] for section in held["content"]["sections"]][:4] == [
        "concern",
        "danger",
        "course",
        "changed",
    ]
    assert "Steady all shift" in held["fragment"]


def test_it_belongs_to_the_patient_and_not_to_the_bed(
    offered: Browser, ward: Ward, database: Database, clock: Clock
) -> None:
    before = stored(offered, ward, "L3", 1)
    with database.writing(clock, ward.staff["cedar"]) as writing:
        empty = next(b for b in unit_beds(writing.session, ward.unit_id) if b.code == "L9")
        move(writing, {ward.courses["L3"]: empty.id}, clock())
        writing.audit("move_bed", course_id=ward.courses["L3"])
    assert stored(offered, ward, "L3", 1) == before
    assert offered.get("/beds/L3").page.heading == "L3 is empty"


def test_an_offer_that_never_was_has_no_snapshot(offered: Browser, ward: Ward) -> None:
    assert offered.get(f"/courses/{ward.courses['L3']}/handoffs/2").status == 404


def test_each_offer_freezes_its_own(offered: Browser, ward: Ward) -> None:
    chart(offered, ward, "L3", fio2_set="60")
    offer(offered, ward, "L3", to="birch")
    assert stored(offered, ward, "L3", 1) != stored(offered, ward, "L3", 2)
