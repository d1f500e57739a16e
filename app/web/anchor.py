"""The end of the chain, told to the log: a chain alone cannot show that its end was cut off.

Whoever keeps the log elsewhere can hold the record against it: the line that was the newest at some
hour has to be there still, under the same hash.
"""

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

import anyio
import structlog
from starlette.concurrency import run_in_threadpool

from app.record.audit import tail
from app.record.database import Database
from app.record.errors import NotReadable
from app.web.this_version import is_of_this_version

HOUR_S = 3600.0

log = structlog.get_logger("leeboard.chain")


@asynccontextmanager
async def anchored(database: Database, every_s: float = HOUR_S) -> AsyncIterator[None]:
    """Tell the end of the chain when the site starts, every hour, and when it stops."""
    await _tell(database, "start")
    async with anyio.create_task_group() as tasks:
        tasks.start_soon(_again_and_again, database, every_s)
        try:
            yield
        finally:
            tasks.cancel_scope.cancel()
    await _tell(database, "stop")


async def _again_and_again(database: Database, every_s: float) -> None:
    while True:
        await anyio.sleep(every_s)
        await _tell(database, "hour")


async def _tell(database: Database, when: str) -> None:
    await run_in_threadpool(_tell_now, database, when)


def _tell_now(database: Database, when: str) -> None:
    try:
        if not is_of_this_version(database):
            log.warning("chain_not_read", when=when, why="the record is not of this version")
            return
        with database.reading() as session:
            end = tail(session)
    except NotReadable as error:
        log.warning("chain_not_read", when=when, why=error.why)
    else:
        log.info("chain", when=when, seq=end.seq, hash=end.hash)
