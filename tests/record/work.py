"""How much an engine does to answer a question: counted, so that no test is timed."""

from collections.abc import Callable
from typing import Any

from sqlalchemy import event
from sqlmodel import Session

ONLY_BY_INDEX = ("enable_seqscan", "enable_hashjoin", "enable_mergejoin")
"""Without them PostgreSQL reads a small table from end to end only where no index leads to it."""


def work(session: Session, ask: Callable[[Session], object]) -> int:
    """Steps of SQLite's machine, or rows that PostgreSQL reads, over all that `ask` sends.

    Two numbers of one engine can be compared, and no others.
    """
    if session.connection().dialect.name == "sqlite":
        return _steps(session, ask)
    return sum(_rows(session, *sent) for sent in _sent(session, ask))


def _steps(session: Session, ask: Callable[[Session], object]) -> int:
    steps = 0

    def count() -> int:
        nonlocal steps
        steps += 1
        return 0

    ask(session)  # what is done once for a connection is not counted
    driver: Any = session.connection().connection.driver_connection
    driver.set_progress_handler(count, 1)
    ask(session)
    driver.set_progress_handler(None, 1)
    assert steps, "nothing was asked of the database"
    return steps


def _sent(session: Session, ask: Callable[[Session], object]) -> list[tuple[str, Any]]:
    sent: list[tuple[str, Any]] = []

    def note(_connection, _cursor, statement: str, parameters: Any, *_rest: object) -> None:
        sent.append((statement, parameters))

    engine = session.get_bind()
    event.listen(engine, "before_cursor_execute", note)
    ask(session)
    event.remove(engine, "before_cursor_execute", note)
    assert sent, "nothing was asked of the database"
    return sent


def _rows(session: Session, statement: str, parameters: Any) -> int:
    connection = session.connection()
    for setting in ONLY_BY_INDEX:
        connection.exec_driver_sql(f"SET LOCAL {setting} = off")
    explained = connection.exec_driver_sql(
        f"EXPLAIN (ANALYZE, FORMAT JSON) {statement}", parameters
    ).scalar_one()
    return _read(explained[0]["Plan"])


def _read(node: dict[str, Any]) -> int:
    """Rows that a plan's scans gave or left out."""
    below = sum(_read(each) for each in node.get("Plans", ()))
    if "Relation Name" not in node:
        return below
    left_out = node.get("Rows Removed by Filter", 0) + node.get("Rows Removed by Index Recheck", 0)
    return below + round((node["Actual Rows"] + left_out) * node["Actual Loops"])
