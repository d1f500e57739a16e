"""A set of files for hours without the program: every bed's handoff and blank forms, no server."""

import os
import re
import shutil
import tempfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

from msgspec import Struct

from app.pages.blank_sheet import blank_page
from app.pages.outage import outage_index
from app.pages.sheets import Made, sheets_page
from app.pages.site_words import SiteWords
from app.record.database import Database
from app.record.judging import clock_of
from app.record.units import Unit, list_units
from app.rules.unit_clock import UnitClock
from app.web.assets import assets_folder
from app.web.sheets import STYLES, in_beds
from app.web.templating import Pages

NAMED = "set-%Y%m%dT%H%M%SZ"
"""A set is named by its moment in UTC: in the hour that comes twice no name does."""

INDEX = "index.html"
_LINK = re.compile(r'<a\b[^>]*\shref="/[^"]*"[^>]*>(.*?)</a>', re.DOTALL)


class Written(Struct, frozen=True):
    """The set that was written."""

    path: Path
    patients: int


class NoUnit(LookupError):  # noqa: N818 - it names a state that whoever asks has words for
    """There is no unit yet, so there is nothing to write."""


def write_set(
    database: Database, words: SiteWords, folder: Path, now: datetime, keep: timedelta
) -> Written:
    """Write one set, point the folder's first page to it, and drop sets older than `keep`.

    A set appears whole or not at all. Raises NoUnit, NotReadable, OSError.
    """
    now = now.replace(microsecond=0)
    folder.mkdir(parents=True, exist_ok=True)
    folder.chmod(0o700)
    unit, texts, patients = _drawn(database, words, now)
    made = Path(tempfile.mkdtemp(prefix=".making-", dir=folder))
    try:
        _fill(made, texts)
        path = _put(made, folder / now.astimezone(UTC).strftime(NAMED))
    finally:
        shutil.rmtree(made, ignore_errors=True)
    _drop_older(folder, now - keep)
    _write_index(folder, unit, clock_of(unit))
    return Written(path, patients)


def kept_sets(folder: Path) -> dict[str, datetime]:
    """The sets that lie in the folder, by name, with their moments."""
    found = {}
    for path in folder.glob("set-*"):
        try:
            found[path.name] = datetime.strptime(path.name, NAMED).replace(tzinfo=UTC)
        except ValueError:
            continue
    return found


def newest_set(folder: Path) -> datetime | None:
    """The moment of the newest set; None where there is none."""
    return max(kept_sets(folder).values(), default=None)


def _drawn(database: Database, words: SiteWords, now: datetime) -> tuple[Unit, dict[str, str], int]:
    with database.reading() as session:
        units = list_units(session)
        if not units:
            raise NoUnit
        unit = units[0]
        found = in_beds(session, unit.id, now, words)
    made = Made(now, clock_of(unit), unit.name, STYLES)
    pages = Pages()
    handoff = pages.text(
        "print/sheets.html",
        sheets_page(made, "Unit handoff", found.courses, found.empty, found.plan),
    )
    blank = pages.text("print/blank.html", blank_page(made, words=words))
    texts = {"handoff.html": without_server(handoff), "blank.html": blank}
    return unit, texts, len(found.courses)


def without_server(html: str) -> str:
    """The page with what its links say, and without links that only a server can answer."""
    return _LINK.sub(r"\1", html)


def _fill(made: Path, texts: dict[str, str]) -> None:
    (made / "css").mkdir()
    for style in STYLES:
        shutil.copyfile(assets_folder("static") / style, made / style)
    for name, text in texts.items():
        (made / name).write_text(text, encoding="utf-8")


def _put(made: Path, path: Path) -> Path:
    """Under its name at once; a set of the same second is the same set."""
    if not path.exists():
        made.rename(path)
    return path


def _drop_older(folder: Path, before: datetime) -> None:
    sets = kept_sets(folder)
    newest = max(sets.values(), default=before)
    for name, at in sets.items():
        if at < before and at != newest:
            shutil.rmtree(folder / name, ignore_errors=True)


def _write_index(folder: Path, unit: Unit, clock: UnitClock) -> None:
    text = Pages().text("print/outage.html", outage_index(unit.name, kept_sets(folder), clock))
    handle, name = tempfile.mkstemp(prefix=".making-", dir=folder)
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        file.write(text)
    Path(name).replace(folder / INDEX)
