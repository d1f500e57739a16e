"""A form that arrives twice acts once: what it did is found by its key, in the same write."""

import hashlib
from collections.abc import Mapping

from msgspec import json

from app.record.idempotency import recall, remember
from app.record.writing import Writing


def did_before(
    writing: Writing, course_id: str, save_key: str, content: Mapping[str, object]
) -> str | None:
    """The id of what the same form wrote before; None for a new one, or without a key.

    Raises KeyReused when the key came with other content.
    """
    if not save_key:
        return None
    done = recall(writing.session, writing.author_id or "", save_key, _sha256(course_id, content))
    if done is not None:
        writing.audit("send_form_again", course_id=course_id or None)
    return done


def keep_sent(
    writing: Writing, course_id: str, save_key: str, content: Mapping[str, object], done: str
) -> None:
    """Keep what the form wrote, together with what it wrote."""
    if save_key:
        author = writing.author_id or ""
        remember(writing, author, save_key, _sha256(course_id, content), done)


def _sha256(course_id: str, content: Mapping[str, object]) -> str:
    told = json.encode({"course": course_id, **content}, order="deterministic")
    return hashlib.sha256(told).hexdigest()
