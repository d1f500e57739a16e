"""A restored record is the record: every value of every table, from each engine into each."""

import gzip
import hashlib
import io
import json
import tarfile
from collections.abc import Callable
from pathlib import Path

import pytest

from app.record.audit import check_chain
from app.record.backup import make_backup
from app.record.backup_file import BLOCK, _seal, _sha256_of, open_backup
from app.record.database import Database
from app.record.drafts import list_drafts
from app.record.errors import Conflict, NotRestored, OnlyGrows
from app.record.restore import restore
from app.record.tables import PatientRow
from app.record.verify import changed_rows, missing_refusals, verify, wrong_occupancy
from tests.clock import Clock
from tests.engines import ENGINES, Sqlite
from tests.record.scene import Scene, set_scene
from tests.record.whole_record import MADE_AT, as_stored, everything, fill

SUMMARY = '{"peep":"8.0"}'


@pytest.fixture
def file(scene: Scene, tmp_path: Path) -> Path:
    fill(scene)
    return make_backup(scene.database, tmp_path, MADE_AT).path


@pytest.fixture(params=ENGINES)
def empty(request):
    """A new, migrated store on each engine."""
    with request.getfixturevalue(request.param).fresh() as database:
        yield database


@pytest.fixture
def plain_file(sqlite: Sqlite, clock: Clock, tmp_path: Path) -> Path:
    """The same file from SQLite alone, for what does not depend on the engine."""
    with sqlite.fresh() as database:
        fill(set_scene(database, clock))
        return make_backup(database, tmp_path, MADE_AT).path


def read_in(database: Database, file: Path) -> None:
    with open_backup(file) as backup:
        restore(database, backup)


def test_every_value_comes_back_as_it_was(scene: Scene, file: Path, empty: Database):
    read_in(empty, file)
    assert everything(empty) == everything(scene.database)


def test_a_sqlite_file_holds_the_same_text_again(sqlite, clock, tmp_path):
    with sqlite.fresh() as first, sqlite.fresh() as second:
        fill(set_scene(first, clock))
        read_in(second, make_backup(first, tmp_path, MADE_AT).path)
        assert as_stored(second) == as_stored(first)


def test_nothing_differs_in_a_restored_record(file: Path, empty: Database):
    read_in(empty, file)
    with empty.reading() as session:
        assert check_chain(session) == ""
        assert list(changed_rows(session)) == []
        assert list(missing_refusals(session)) == []
        assert list(wrong_occupancy(session)) == []


def test_a_restored_record_goes_on_growing_and_still_refuses(scene, file, empty: Database):
    read_in(empty, file)
    with empty.writing(scene.clock, scene.therapist) as writing:
        writing.add(row := PatientRow())
        writing.audit("admit", subject=row)
    with pytest.raises(OnlyGrows), empty.working() as session:
        session.connection().exec_driver_sql("DELETE FROM reading")
    with empty.reading() as session:
        assert check_chain(session) == ""


def test_what_was_typed_and_not_saved_is_not_in_it(scene: Scene, file: Path, empty: Database):
    read_in(empty, file)
    with empty.reading() as session:
        assert list_drafts(session, scene.therapist) == ()


def test_a_store_with_anything_in_it_is_refused_by_name(scene: Scene, file: Path):
    before = everything(scene.database)
    with pytest.raises(NotRestored, match="staff holds 2 rows"):
        read_in(scene.database, file)
    assert everything(scene.database) == before


def test_a_second_restore_into_the_same_store_is_refused(file: Path, empty: Database):
    read_in(empty, file)
    with pytest.raises(NotRestored, match="not empty"):
        read_in(empty, file)


def altered(file: Path, change: Callable[[str, bytes], bytes | None]) -> Path:
    """The file with members changed by somebody who also puts a right seal on it."""
    path = file.with_name("altered.tar")
    with tarfile.open(file) as old, tarfile.open(path, "w", format=tarfile.USTAR_FORMAT) as new:
        for member in old:
            content = change(member.name, old.extractfile(member).read())
            if content is not None:
                member.size = len(content)
                new.addfile(member, io.BytesIO(content))
    size = path.stat().st_size
    with path.open("r+b") as sealed:
        sealed.write(_seal(_sha256_of(sealed, size)))
    return path


def in_text(table: str, change: Callable[[bytes], bytes]) -> Callable[[str, bytes], bytes]:
    def apply(name: str, content: bytes) -> bytes:
        if name != f"{table}.jsonl.gz":
            return content
        return gzip.compress(change(gzip.decompress(content)))

    return apply


def in_manifest(change: Callable[[dict], None]) -> Callable[[str, bytes], bytes]:
    def apply(name: str, content: bytes) -> bytes:
        if name != "manifest.json":
            return content
        manifest = json.loads(content)
        change(manifest)
        return json.dumps(manifest).encode()

    return apply


def told(file: Path, empty: Database) -> str:
    with pytest.raises(NotRestored) as error:
        read_in(empty, file)
    assert not any(everything(empty).values()), "nothing may be kept of a refused backup"
    return error.value.why


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (in_text("reading", lambda text: text.replace(b'"8.0"', b'"80"')), "rows of reading"),
        (in_text("reading", lambda text: text + text[: text.index(b"\n") + 1]), "rows of reading"),
        (in_text("reading", lambda _text: b""), "rows of reading"),
        (in_text("staff", lambda text: text.replace(b'"id"', b'"x"', 1)), "a row of staff"),
        (in_text("bed", lambda text: text.replace(b"true", b"1")), "a row of bed"),
        (in_manifest(lambda told: told.update(audit_hash="0" * 64)), "the chain does not end"),
        (in_manifest(lambda told: told.update(revision="9999")), "revision 9999"),
        (in_manifest(lambda told: told.update(format="other")), "format"),
        (in_manifest(lambda told: told.pop("revision")), "no backup"),
        (in_manifest(lambda t: t["tables"].update(x={"rows": 0, "sha256": ""})), "no table x"),
        (lambda name, content: None if name == "manifest.json" else content, "no backup"),
        (lambda name, content: None if name.startswith("bed.") else content, "no backup"),
        (lambda name, content: b"x" if name.startswith("bed.") else content, "no backup"),
    ],
)
def test_a_file_that_was_altered_and_sealed_again_is_refused(
    plain_file: Path, sqlite_database: Database, change, words: str
):
    assert words in told(altered(plain_file, change), sqlite_database)


def test_rows_that_do_not_fit_together_are_refused_and_nothing_is_kept(plain_file, empty: Database):
    def without_staff(name: str, content: bytes) -> bytes:
        empty_text = {"rows": 0, "sha256": hashlib.sha256(b"").hexdigest()}
        if name == "staff.jsonl.gz":
            return gzip.compress(b"")
        return in_manifest(lambda m: m["tables"].update(staff=empty_text))(name, content)

    with pytest.raises(Conflict):
        read_in(empty, altered(plain_file, without_staff))
    assert not any(everything(empty).values())


def test_a_forged_row_that_every_checksum_covers_is_found_by_verify(
    plain_file: Path, empty: Database
):
    told = in_text("reading", lambda text: text.replace(b'"number":"8.0"', b'"number":"80"'))
    with tarfile.open(plain_file) as tar:
        forged = told("reading.jsonl.gz", tar.extractfile("reading.jsonl.gz").read())
    sha256 = hashlib.sha256(gzip.decompress(forged)).hexdigest()
    covered = in_manifest(lambda manifest: manifest["tables"]["reading"].update(sha256=sha256))
    read_in(empty, altered(plain_file, lambda name, content: covered(name, told(name, content))))
    with empty.reading() as session:
        found = verify(session, lambda _facts: SUMMARY)
    assert any(difference.where.startswith("reading ") for difference in found)


def test_a_backup_from_before_a_table_was_there_is_read_in(plain_file: Path, empty: Database):
    """Of a column that came later nothing stands in the text of a row; of a table, no text at all.

    The chain of this one still names the row that was left out, which `verify` would tell.
    """

    def older(name: str, content: bytes) -> bytes | None:
        if name == "handoff.jsonl.gz":
            return None
        return in_manifest(lambda told: told["tables"].pop("handoff"))(name, content)

    read_in(empty, altered(plain_file, older))
    assert everything(empty)["handoff"] == []


def test_an_empty_record_can_be_kept_and_read_in(engine, tmp_path: Path, empty: Database):
    with engine.fresh() as nothing:
        made = make_backup(nothing, tmp_path, MADE_AT)
    read_in(empty, made.path)
    assert made.manifest.rows == 0
    assert made.path.stat().st_size % BLOCK == 0
