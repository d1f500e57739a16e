"""Verify finds what was done to the record behind its back, and nothing when nothing was."""

import pytest
from sqlalchemy import text

from app.record.summaries import store_summary
from app.record.verify import Difference, verify
from tests.record.scene import set_scene


def summarise(facts) -> str:
    return str(len(facts.standing))


def chart_and_summarise(scene) -> None:
    scene.chart(peep="8.0", fio2="40")
    with scene.writing() as writing:
        store_summary(writing, scene.course, scene.unit, "1", None)
        writing.audit("summarise")


def behind_its_back(database, table: str, statement: str) -> None:
    """Change something as the owner of the store, and put the refusals back as they were."""
    with database.connection() as connection:
        if database.dialect == "postgresql":
            off = f"ALTER TABLE {table} DISABLE TRIGGER ALL; {statement};"
            connection.execute(text(off))
            for trigger in (f"{table}_refuses_rows", f"{table}_refuses_statements"):
                connection.execute(text(f"ALTER TABLE {table} ENABLE ALWAYS TRIGGER {trigger}"))
            return
        triggers = connection.execute(
            text(
                "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = :table"
            ),
            {"table": table},
        ).all()
        for trigger in triggers:
            connection.execute(text(f"DROP TRIGGER {trigger.name}"))
        connection.execute(text(statement))
        for trigger in triggers:
            connection.exec_driver_sql(trigger.sql)


def found(scene) -> list[Difference]:
    with scene.database.reading() as session:
        return verify(session, summarise)


def test_a_whole_record_shows_no_difference(scene):
    chart_and_summarise(scene)
    assert found(scene) == []


@pytest.mark.parametrize(
    "change",
    [
        "UPDATE reading SET number = '80' WHERE field = 'peep'",
        "UPDATE reading SET raw = 'x' WHERE field = 'peep'",
        "UPDATE reading SET number = '8.00' WHERE field = 'peep'",
        "UPDATE reading SET zone_offset_min = 0 WHERE field = 'peep'",
    ],
)
def test_one_changed_value_is_found(scene, change):
    chart_and_summarise(scene)
    sql = change.replace("'80'", "80").replace("'8.00'", "8.00")
    behind_its_back(
        scene.database, "reading", sql if scene.database.dialect == "postgresql" else change
    )
    (difference,) = found(scene)
    assert difference.where.startswith("reading ")
    assert "changed" in difference.what


def test_a_removed_row_is_found(scene):
    chart_and_summarise(scene)
    behind_its_back(scene.database, "reading", "DELETE FROM reading WHERE field = 'peep'")
    (difference,) = found(scene)
    assert difference.what == "the row is gone"


def test_a_row_that_no_audit_line_names_is_found(scene):
    chart_and_summarise(scene)
    with scene.database.connection() as connection:
        connection.execute(
            text(
                "INSERT INTO patient (id, recorded_at, author_id)"
                " VALUES ('x', '2026-03-02 08:00:00.000000', :author)"
            ),
            {"author": scene.therapist},
        )
    assert found(scene) == [Difference("patient", "1 rows that no audit line names")]


def test_a_broken_chain_is_found(scene):
    chart_and_summarise(scene)
    behind_its_back(scene.database, "audit_line", "UPDATE audit_line SET act = 'x' WHERE seq = 2")
    assert [difference.where for difference in found(scene)] == ["audit_line"]


def test_missing_refusals_are_found(scene):
    chart_and_summarise(scene)
    drop = {
        "sqlite": "DROP TRIGGER reading_refuses_update",
        "postgresql": "DROP TRIGGER reading_refuses_rows ON reading",
    }[scene.database.dialect]
    with scene.database.connection() as connection:
        connection.execute(text(drop))
    (difference,) = found(scene)
    assert (difference.where, "does not stand" in difference.what) == ("reading", True)


def test_a_refusal_that_no_longer_refuses_is_found(scene):
    chart_and_summarise(scene)
    weaken = {
        "sqlite": [
            "DROP TRIGGER reading_refuses_update",
            "CREATE TRIGGER reading_refuses_update BEFORE UPDATE ON reading BEGIN SELECT 1; END",
        ],
        "postgresql": ["ALTER TABLE reading ENABLE TRIGGER reading_refuses_rows"],
    }[scene.database.dialect]
    with scene.database.connection() as connection:
        for statement in weaken:
            connection.exec_driver_sql(statement)
    assert [difference.where for difference in found(scene)] == ["reading"]


def test_a_hollow_function_on_postgresql_is_found_in_every_table(postgresql, clock):
    with postgresql.fresh() as database:
        scene = set_scene(database, clock)
        with database.connection() as connection:
            connection.exec_driver_sql(
                "CREATE OR REPLACE FUNCTION leeboard_only_grows() RETURNS trigger LANGUAGE plpgsql"
                " AS $$BEGIN RETURN NULL; END$$"
            )
        assert {"reading", "audit_line"} <= {difference.where for difference in found(scene)}


def test_a_wrong_occupant_is_found(scene):
    chart_and_summarise(scene)
    with scene.database.working() as session:
        session.execute(text("UPDATE occupancy SET bed_id = :bed"), {"bed": scene.beds[1]})
    assert [difference.where for difference in found(scene)] == [
        f"occupancy of course {scene.course}"
    ]


@pytest.mark.parametrize(
    ("change", "what"),
    [
        ("UPDATE bed_summary SET cells = '7'", "is not what the facts give"),
        ("DELETE FROM bed_summary", "is missing"),
    ],
)
def test_a_wrong_or_missing_summary_is_found(scene, change, what):
    chart_and_summarise(scene)
    with scene.database.working() as session:
        session.execute(text(change))
    assert found(scene) == [Difference(f"bed_summary of course {scene.course}", what)]


def test_many_rows_are_compared_batch_by_batch(scene, monkeypatch):
    monkeypatch.setattr("app.record.verify.AT_ONCE", 3)
    for _ in range(4):
        scene.chart(peep="8", fio2="40")
    with scene.writing() as writing:
        store_summary(writing, scene.course, scene.unit, "4", None)
        writing.audit("summarise")
    assert found(scene) == []
