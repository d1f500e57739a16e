"""The file of a backup: a tar of one manifest and one gzipped text per table, sealed at its end.

Any tar and gzip open it. The manifest says what the record was: schema revision, newest audit line,
and rows and SHA-256 of each table's text. Behind the tar's own end stands one more block with the
SHA-256 of everything before it, so that no byte of the file can change unseen.
"""

import gzip
import hashlib
import json
import os
import tarfile
import zlib
from collections.abc import Iterable, Iterator, Mapping
from contextlib import ExitStack, contextmanager
from datetime import datetime
from io import BytesIO
from pathlib import Path
from typing import IO

from msgspec import Struct, to_builtins

from app.record.errors import NotRestored

FORMAT = "leeboard-backup-1"
MANIFEST = "manifest.json"
BLOCK = 512
"""Bytes of a tar's block; the seal fills one."""

CHUNK = 1 << 20


class TableCopy(Struct, frozen=True):
    """How many rows a table had, and the hash of their text."""

    rows: int
    sha256: str


class Manifest(Struct, frozen=True):
    """What the record was when the backup was made."""

    made_at: str
    revision: str
    engine: str
    audit_seq: int
    audit_hash: str
    tables: Mapping[str, TableCopy]

    @property
    def rows(self) -> int:
        """Of all tables together."""
        return sum(table.rows for table in self.tables.values())


class TableText:
    """One table's text on its way into the file: compressed, counted and hashed line by line."""

    def __init__(self, path: Path) -> None:
        self.path = path
        self._sha256 = hashlib.sha256()
        self._rows = 0

    def write(self, lines: Iterable[bytes]) -> TableCopy:
        """Write every line; returns what the manifest says of the table."""
        with self.path.open("xb") as raw, gzip.GzipFile("", "wb", 6, raw, mtime=0) as out:
            for line in lines:
                out.write(line)
                self._sha256.update(line)
                self._rows += 1
        return TableCopy(self._rows, self._sha256.hexdigest())


def member_of(table: str) -> str:
    """What a table's text is called in the file."""
    return f"{table}.jsonl.gz"


def pack(path: Path, manifest: Manifest, texts: Iterable[Path], made_at: datetime) -> None:
    """Put manifest and texts into one sealed file that only its owner can read."""
    path.touch(mode=0o600, exist_ok=False)
    content = json.dumps({"format": FORMAT, **to_builtins(manifest)}, indent=1).encode()
    with tarfile.open(path, "w", format=tarfile.USTAR_FORMAT) as tar:
        _put(tar, MANIFEST, BytesIO(content), len(content), made_at)
        for text in texts:
            with text.open("rb") as source:
                _put(tar, text.name, source, text.stat().st_size, made_at)
    with path.open("r+b") as file:
        seal = _seal(_sha256_of(file, path.stat().st_size))
        file.write(seal)
        file.flush()
        os.fsync(file.fileno())


def _put(tar: tarfile.TarFile, name: str, source: IO[bytes], size: int, made_at: datetime) -> None:
    member = tarfile.TarInfo(name)
    member.size, member.mode, member.mtime = size, 0o600, int(made_at.timestamp())
    tar.addfile(member, source)


def _seal(sha256: str) -> bytes:
    return f"sha256 {sha256}\n".encode().ljust(BLOCK, b"\0")


def _sha256_of(file: IO[bytes], size: int) -> str:
    """Of the file's first bytes; the file then stands behind them."""
    digest = hashlib.sha256()
    file.seek(0)
    while size > 0 and (chunk := file.read(min(CHUNK, size))):
        digest.update(chunk)
        size -= len(chunk)
    return digest.hexdigest()


def sha256_of_file(path: Path) -> str:
    """The hash of the whole file, as `sha256sum` gives it."""
    with path.open("rb") as file:
        return _sha256_of(file, path.stat().st_size)


class BackupFile:
    """A backup that is whole, open for reading."""

    def __init__(self, tar: tarfile.TarFile, manifest: Manifest) -> None:
        self._tar = tar
        self.manifest = manifest

    def lines(self, table: str) -> Iterator[bytes]:
        """The lines of a table; none when the backup is older than the table.

        Raises NotRestored, at the latest at the end, when they are not those of the manifest.
        """
        told = self.manifest.tables.get(table)
        if told is None:
            return
        digest, rows = hashlib.sha256(), 0
        for line in self._unpacked(table):
            digest.update(line)
            rows += 1
            yield line
        if (rows, digest.hexdigest()) != (told.rows, told.sha256):
            raise NotRestored(f"the rows of {table} are not those that its manifest speaks of")

    def _unpacked(self, table: str) -> Iterator[bytes]:
        with _no_backup(), gzip.open(_member(self._tar, member_of(table))) as text:
            yield from text


@contextmanager
def open_backup(path: Path) -> Iterator[BackupFile]:
    """Open a file whose seal holds. Raises NotRestored for any other file."""
    with ExitStack() as open_files:
        with _no_backup():
            file = open_files.enter_context(path.open("rb"))
            _check_seal(file, path.stat().st_size)
            file.seek(0)
            tar = open_files.enter_context(tarfile.open(fileobj=file, mode="r:"))
            manifest = _manifest_in(tar)
        yield BackupFile(tar, manifest)


@contextmanager
def _no_backup() -> Iterator[None]:
    """Turn what a file of another kind does to tar, gzip and JSON into NotRestored."""
    try:
        yield
    except (tarfile.TarError, zlib.error, EOFError, KeyError, TypeError, ValueError):
        raise NotRestored("the file is no backup of this program") from None
    except OSError as error:
        why = error.strerror or "it is no backup of this program"
        raise NotRestored(f"the file cannot be read: {why}") from None


def _member(tar: tarfile.TarFile, name: str) -> IO[bytes]:
    member = tar.extractfile(name)
    if member is None:
        raise KeyError(name)
    return member


def _check_seal(file: IO[bytes], size: int) -> None:
    sha256 = _sha256_of(file, size - BLOCK)
    if file.read() != _seal(sha256):
        raise NotRestored("the file is damaged, cut off or no backup: its seal is not right")


def _manifest_in(tar: tarfile.TarFile) -> Manifest:
    told = json.load(_member(tar, MANIFEST))
    if not isinstance(told, dict) or told.pop("format", "") != FORMAT:
        raise NotRestored("the backup is of a format that this version does not read")
    tables = {name: TableCopy(**copy) for name, copy in told.pop("tables").items()}
    return Manifest(tables=tables, **told)
