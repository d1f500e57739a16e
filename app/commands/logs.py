"""One log of JSON lines on standard error, for what the app says and for what the server says."""

import logging
import logging.config
import sys

import structlog
from structlog.typing import EventDict, WrappedLogger

from app.web.fault_log import where_it_broke

_BEFORE = (
    structlog.contextvars.merge_contextvars,
    structlog.stdlib.add_log_level,
    structlog.processors.TimeStamper(fmt="iso", utc=True),
)


def keep_logs() -> None:
    """Set up logging for this process."""
    structlog.configure(
        processors=[*_BEFORE, structlog.processors.JSONRenderer(ensure_ascii=False)],
        logger_factory=structlog.WriteLoggerFactory(file=sys.stderr),
        cache_logger_on_first_use=True,
    )
    handler = logging.StreamHandler(sys.stderr)
    handler.setFormatter(
        structlog.stdlib.ProcessorFormatter(
            foreign_pre_chain=[*_BEFORE, _without_messages],
            processors=[
                structlog.stdlib.ProcessorFormatter.remove_processors_meta,
                structlog.processors.JSONRenderer(ensure_ascii=False),
            ],
        )
    )
    logging.basicConfig(handlers=[handler], level=logging.INFO, force=True)


def _without_messages(_logger: WrappedLogger, _name: str, event: EventDict) -> EventDict:
    """An exception that the server logs by itself, reduced to where it happened."""
    told = event.pop("exc_info", None)
    error = told[1] if isinstance(told, tuple) else told
    if isinstance(error, BaseException):
        event.update(where_it_broke(error))
    return event
