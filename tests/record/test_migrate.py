"""From an empty store to the newest schema, which is exactly what the models say."""

from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlmodel import SQLModel

from app.record.migrate import current_revision, is_current, migrations_folder, revisions, upgrade
from app.record.verify import missing_refusals


def test_an_empty_store_has_no_revision(engine):
    with engine.fresh(migrated=False) as database:
        assert current_revision(database) is None
        assert not is_current(database)


def test_upgrading_an_empty_store_gives_the_schema_of_the_models(engine):
    with engine.fresh(migrated=False) as database:
        upgrade(database)
        assert is_current(database)
        with database.reading() as session:
            opened = MigrationContext.configure(session.connection(), opts={"compare_type": True})
            assert compare_metadata(opened, SQLModel.metadata) == []
            assert list(missing_refusals(session)) == []


def test_upgrading_twice_changes_nothing(database):
    upgrade(database)
    assert current_revision(database) == revisions()[-1]


def test_it_runs_from_any_directory(engine, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    with engine.fresh(migrated=False) as database:
        upgrade(database)
        assert is_current(database)
    assert list(tmp_path.iterdir()) == []


def test_a_packed_folder_goes_before_the_one_beside_the_app(tmp_path, monkeypatch):
    monkeypatch.setattr("app.record.migrate._APP", tmp_path / "app")
    assert migrations_folder() == tmp_path / "migrations"
    packed = tmp_path / "app" / "_assets" / "migrations"
    packed.mkdir(parents=True)
    assert migrations_folder() == packed


def test_every_revision_refuses_to_be_taken_back():
    for file in (migrations_folder() / "versions").glob("*.py"):
        assert "raise RuntimeError" in file.read_text(encoding="utf-8"), file.name
