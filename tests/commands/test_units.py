"""`leeboard unit`: a unit with its zone, beds and shifts, or the reason why there is none."""

import pytest

from app.record.beds import unit_beds
from app.record.database import Database
from app.record.units import list_units
from app.record.verify import verify

ADD = ("unit", "add", "larch", "--name", "Unit Larch", "--zone", "Europe/Berlin", "--beds")


@pytest.fixture(params=["sqlite", "postgresql"])
def site(request, leeboard):
    """Commands on a migrated record of each engine, and the record."""
    with request.getfixturevalue(request.param).fresh() as database:
        url = database.url.render_as_string(hide_password=False)
        yield lambda *words, **more: leeboard(*words, LEEBOARD_DATABASE_URL=url, **more), database


def test_a_unit_stands_with_its_beds_in_the_order_given(site):
    leeboard, database = site
    result = leeboard(*ADD, "B2, B1 B10", "--shifts", "06:30 14:30 22:30")
    assert (result.exit_code, "stands with 3 beds" in result.stdout) == (0, True)
    with database.reading() as session:
        (unit,) = list_units(session)
        codes = [bed.code for bed in unit_beds(session, unit.id)]
        assert verify(session, str) == []
    assert codes == ["B2", "B1", "B10"]
    assert (unit.zone.key, unit.shift_times) == ("Europe/Berlin", ("06:30", "14:30", "22:30"))


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((*ADD, ""), "needs beds"),
        ((*ADD, "L1 L2 L1"), "L1"),
        ((*ADD, "L1 l1"), "L1, l1"),
        ((*ADD, "L1", "--shifts", "7 am"), "no starts of shifts"),
        ((*ADD, "L1", "--shifts", ""), "starts of its shifts"),
        ((*ADD, "L1", "--shifts", "07:00 07:00"), "each once"),
        ((*ADD[:5], "--zone", "Europe/Larch", "--beds", "L1"), "no time zone 'Europe/Larch'"),
        ((*ADD[:5], "--zone", "../etc/passwd", "--beds", "L1"), "no time zone"),
        ((*ADD[:5], "--zone", "Europe", "--beds", "L1"), "no time zone"),
        ((*ADD[:5], "--zone", "", "--beds", "L1"), "no time zone"),
        (("unit", "add", " ", *ADD[3:], "L1"), "a code and a name"),
    ],
)
def test_what_nobody_could_work_in_is_refused_with_the_reason(site, words, told: str):
    leeboard, database = site
    result = leeboard(*words)
    assert result.exit_code == 2
    assert result.stderr.startswith("Not added: ")
    assert told in result.stderr
    with database.reading() as session:
        assert list_units(session) == ()


def test_a_code_can_be_taken_once(site):
    leeboard, database = site
    assert leeboard(*ADD, "L1").exit_code == 0
    again = leeboard("unit", "add", "LARCH", *ADD[3:], "L9")
    assert (again.exit_code, "there is a unit 'LARCH' already" in again.stderr) == (2, True)
    with database.reading() as session:
        assert len(list_units(session)) == 1


def test_with_a_second_unit_an_operator_is_told_which_one_the_pages_show(site):
    leeboard, _ = site
    leeboard(*ADD, "L1")
    second = ("unit", "add", "elm", "--name", "Unit Elm", "--zone", "UTC", "--beds", "E1")
    assert "The pages show one unit, the first by name: Unit Elm." in leeboard(*second).stdout


def test_the_list_names_zone_and_shifts(site):
    leeboard, _ = site
    leeboard(*ADD, "L1")
    (line,) = leeboard("unit", "list").stdout.splitlines()
    assert line.split() == ["larch", "Unit", "Larch", "Europe/Berlin", "shifts", "07:00", "19:00"]


def test_without_a_migrated_record_nothing_is_added(leeboard):
    result = leeboard(*ADD, "L1")
    assert (result.exit_code, "leeboard migrate" in result.stderr) == (2, True)


def test_a_record_that_cannot_be_written_says_why(site, monkeypatch):
    from app.record.errors import NotWritable

    def refused(*_args, **_more):
        raise NotWritable("the disk is full")

    leeboard, _ = site
    monkeypatch.setattr(Database, "writing", refused)
    result = leeboard(*ADD, "L1")
    assert (result.exit_code, result.stderr) == (2, "Not added: the disk is full.\n")
