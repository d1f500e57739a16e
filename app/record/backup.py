"""Copy the whole record into one file while people go on working, the same way on both engines.

Everything is read in one unchanging view of the store, so rows, summaries and the end of the chain
belong together whatever is written meanwhile. The copy is made of rows and not of the engine's own
pages: it needs no tool of the engine, and a copy of one engine can be read in by the other.
"""

from datetime import UTC, datetime
from errno import EEXIST
from pathlib import Path
from tempfile import TemporaryDirectory

from msgspec import Struct
from sqlmodel import Session

from app.record.audit import tail
from app.record.backup_file import Manifest, TableText, member_of, pack, sha256_of_file
from app.record.copied_rows import COPIED, as_line, rows_of
from app.record.database import Database
from app.record.migrate import revision_in


class Backup(Struct, frozen=True):
    """A backup that was made: the file, its hash, and what it holds."""

    path: Path
    sha256: str
    manifest: Manifest


def make_backup(database: Database, folder: Path, made_at: datetime) -> Backup:
    """Write one file into the folder, and its SHA-256 beside it; both appear only when complete.

    Raises NotReadable when the store cannot be read, OSError when the file cannot be written.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    path = folder / f"leeboard-{made_at.astimezone(UTC):%Y%m%dT%H%M%SZ}.tar"
    if path.exists():
        raise FileExistsError(EEXIST, "a backup of this second is there already", str(path))
    with TemporaryDirectory(prefix=".unfinished-", dir=folder) as work:
        unfinished = Path(work) / path.name
        with database.reading() as session:
            manifest = _copy(session, Path(work), made_at, database.dialect)
        texts = [Path(work) / member_of(table.name) for table in COPIED]
        pack(unfinished, manifest, texts, made_at)
        sha256 = sha256_of_file(unfinished)
        beside = Path(work) / f"{path.name}.sha256"
        beside.write_text(f"{sha256}  {path.name}\n", encoding="ascii")
        for finished in (beside, unfinished):
            finished.replace(folder / finished.name)
    return Backup(path, sha256, manifest)


def _copy(session: Session, work: Path, made_at: datetime, engine: str) -> Manifest:
    end = tail(session)
    tables = {
        table.name: TableText(work / member_of(table.name)).write(
            map(as_line, rows_of(session, table))
        )
        for table in COPIED
    }
    return Manifest(
        made_at=made_at.astimezone(UTC).isoformat(timespec="seconds"),
        revision=revision_in(session) or "",
        engine=engine,
        audit_seq=end.seq,
        audit_hash=end.hash,
        tables=tables,
    )
