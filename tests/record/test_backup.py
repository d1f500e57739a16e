"""A backup is one sealed file, from both engines alike, and whole whatever is written meanwhile."""

import gzip
import hashlib
import json
import stat
import subprocess
import tarfile
import threading
import time
from pathlib import Path

import pytest
from sqlmodel import SQLModel

from app.record.audit import tail
from app.record.backup import Backup, make_backup
from app.record.backup_file import BLOCK, open_backup
from app.record.copied_rows import COPIED
from app.record.errors import NotReadable, NotRestored
from app.record.restore import restore
from app.record.tables import PatientRow
from app.record.verify import verify
from tests.engines import ENGINES
from tests.record.whole_record import MADE_AT, fill

KEPT_OUT = {"session", "identity_check", "throttle", "draft", "idempotency_key", "last_look"}


@pytest.fixture
def made(scene, tmp_path: Path) -> Backup:
    fill(scene)
    return make_backup(scene.database, tmp_path, MADE_AT)


def test_every_table_is_in_it_or_left_out_on_purpose():
    assert {table.name for table in COPIED} == SQLModel.metadata.tables.keys() - KEPT_OUT


def test_every_copied_table_has_a_row_in_these_tests(made):
    """Fill a new table in `whole_record.fill`: what is empty here is compared with nothing."""
    assert not [name for name, copy in made.manifest.tables.items() if copy.rows == 0]


def test_only_its_owner_can_read_the_file(made):
    assert stat.S_IMODE(made.path.stat().st_mode) == 0o600


def test_the_hash_beside_the_file_is_what_sha256sum_checks(made):
    checked = subprocess.run(
        ["sha256sum", "--check", f"{made.path.name}.sha256"],
        cwd=made.path.parent,
        capture_output=True,
        check=True,
    )
    assert b": OK" in checked.stdout


def test_nothing_unfinished_stays_in_the_folder(made):
    names = {path.name for path in made.path.parent.iterdir()}
    assert names == {made.path.name, f"{made.path.name}.sha256"}


def test_common_tools_open_it(made):
    with tarfile.open(made.path) as tar:
        manifest = json.load(tar.extractfile("manifest.json"))
        text = gzip.decompress(tar.extractfile("reading.jsonl.gz").read())
    assert hashlib.sha256(text).hexdigest() == manifest["tables"]["reading"]["sha256"]
    assert text.count(b"\n") == manifest["tables"]["reading"]["rows"] == 4


def test_the_manifest_names_the_end_of_the_chain(made, scene):
    with scene.database.reading() as session:
        end = tail(session)
    assert (made.manifest.audit_seq, made.manifest.audit_hash) == (end.seq, end.hash)


def test_a_second_backup_in_the_same_second_does_not_replace_the_first(made, scene):
    with pytest.raises(FileExistsError):
        make_backup(scene.database, made.path.parent, MADE_AT)
    with open_backup(made.path):
        pass


def test_a_store_that_cannot_be_read_leaves_no_file(scene, tmp_path, monkeypatch):
    def broken(*_args):
        raise NotReadable("the connection is gone")

    monkeypatch.setattr("app.record.backup.rows_of", broken)
    with pytest.raises(NotReadable):
        make_backup(scene.database, tmp_path / "b", MADE_AT)
    assert list((tmp_path / "b").iterdir()) == []


def refused(path: Path, content: bytes) -> str:
    path.write_bytes(content)
    with pytest.raises(NotRestored) as error, open_backup(path):
        pass
    return error.value.why


def test_a_flipped_byte_anywhere_in_the_file_is_refused(made, tmp_path):
    whole = made.path.read_bytes()
    places = [*range(0, len(whole), 211), *range(len(whole) - BLOCK, len(whole))]
    for place in places:
        changed = bytearray(whole)
        changed[place] ^= 1
        assert "seal" in refused(tmp_path / "changed.tar", bytes(changed)), place


@pytest.mark.parametrize("length", [0, 1, BLOCK - 1, BLOCK, BLOCK + 1, -1, -BLOCK])
def test_a_file_that_was_cut_off_is_refused(made, tmp_path, length: int):
    assert "seal" in refused(tmp_path / "short.tar", made.path.read_bytes()[:length])


def test_a_file_with_more_at_its_end_is_refused(made, tmp_path):
    assert "seal" in refused(tmp_path / "long.tar", made.path.read_bytes() + b"\0")


def test_a_file_that_is_not_there_is_refused_in_words(tmp_path):
    with pytest.raises(NotRestored, match="No such file"), open_backup(tmp_path / "none.tar"):
        pass


@pytest.mark.parametrize("target", ENGINES)
def test_a_backup_made_while_others_write_is_whole(scene, tmp_path, request, target: str):
    """Each of several backups, made between a writer's transactions, verifies on its own."""
    go_on, written = threading.Event(), []

    def write() -> None:
        while not go_on.is_set():
            with scene.writing() as writing:
                writing.add(*(PatientRow() for _ in range(20)))
                writing.audit("admit_many")
            written.append(1)

    writer = threading.Thread(target=write)
    writer.start()
    made = []
    try:
        for place in range(4):
            seen = len(written)
            while len(written) < seen + 2:
                time.sleep(0.01)
            made.append(make_backup(scene.database, tmp_path / str(place), MADE_AT))
    finally:
        go_on.set()
        writer.join()
    assert len({backup.manifest.audit_hash for backup in made}) == 4
    for backup in made:
        with request.getfixturevalue(target).fresh() as other, open_backup(backup.path) as file:
            restore(other, file)
            with other.reading() as session:
                assert verify(session, lambda _facts: "{}") == []
