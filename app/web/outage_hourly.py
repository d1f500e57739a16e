"""Every hour, on the hour, a set of files for the case that the program is gone the next."""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import datetime, timedelta

import anyio
import structlog
from starlette.concurrency import run_in_threadpool

from app.record.errors import NotReadable, NotWritable
from app.web.outage_files import NoUnit, Written, write_set
from app.web.site import Site

HOUR_S = 3600.0

log = structlog.get_logger("leeboard.outage")


@asynccontextmanager
async def kept_ready(site: Site) -> AsyncIterator[None]:
    """Write a set when the site starts and at every full hour, until it stops."""
    async with anyio.create_task_group() as tasks:
        tasks.start_soon(_again_and_again, site)
        try:
            yield
        finally:
            tasks.cancel_scope.cancel()


async def _again_and_again(site: Site) -> None:
    while True:
        await run_in_threadpool(write_now, site)
        await anyio.sleep(until_the_hour(site.clock()))


def until_the_hour(now: datetime) -> float:
    """Seconds until the next full hour, which is one in every zone with whole hours."""
    return HOUR_S - now.timestamp() % HOUR_S


def write_now(site: Site, staff_id: str | None = None, workstation: str = "") -> Written | None:
    """Write one set; what goes wrong is told to the log, and None comes back."""
    settings, keep = site.settings, timedelta(hours=site.settings.outage_keep_hours)
    try:
        written = write_set(site.database, site.words, settings.outage_folder, site.clock(), keep)
    except NoUnit:
        log.info("outage_set_not_written", why="there is no unit yet")
    except (NotReadable, OSError) as error:
        log.warning("outage_set_not_written", why=getattr(error, "why", type(error).__name__))
    else:
        log.info("outage_set", patients=written.patients)
        _note(site, written, staff_id, workstation)
        return written
    return None


def _note(site: Site, written: Written, staff_id: str | None, workstation: str) -> None:
    """In the audit, if it can be written: the files are there either way."""
    try:
        with site.database.writing(site.clock, staff_id, workstation=workstation) as writing:
            writing.audit("write_outage_set", detail={"patients": written.patients})
    except NotWritable as error:
        log.warning("outage_set_not_noted", why=error.why)
