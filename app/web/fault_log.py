"""Where a bug sits, in words that are safe to keep in a log."""

import traceback


def where_it_broke(error: BaseException) -> dict[str, str]:
    """The kind of error and the lines it passed, for one line of the log.

    The message is left out: it may quote what somebody typed about a patient.
    """
    frames = traceback.extract_tb(error.__traceback__)
    lines = [f"{frame.filename}:{frame.lineno} {frame.name}" for frame in frames]
    cause = error.__cause__ or error.__context__
    return {
        "error": _kind(error),
        "cause": _kind(cause) if cause is not None else "",
        "traceback": "\n".join(lines),
    }


def _kind(error: BaseException) -> str:
    return f"{type(error).__module__}.{type(error).__qualname__}"
