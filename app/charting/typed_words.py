"""How a choice, a free text, a day and a moment are read from what somebody typed or picked."""

import re
import unicodedata
from datetime import date, datetime

from msgspec import Struct

from app.charting.digits import plain, quoted
from app.charting.field import Field

YES_NO_KEYS = {"y": "yes", "n": "no"}
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}", re.ASCII)
_MOMENT = re.compile(r"\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(?::\d{2})?(?:Z|[+-]\d{2}:\d{2})?", re.ASCII)
EARLIEST_YEAR = 1900


class Word(Struct, frozen=True):
    """A word that can be stored, and what a reader sees for it."""

    stored: str
    seen: str


class Unreadable(Struct, frozen=True):
    """Why the text is no answer of this field: a stable code and a sentence."""

    code: str
    sentence: str


def _key(text: str) -> str:
    folded = unicodedata.normalize("NFKC", text).casefold()
    return " ".join(re.sub(r"[\s_]+", " ", folded).split())


def read_choice(field: Field, typed: str) -> Word | Unreadable:
    """One of the field's answers by code or label, capitals aside; y and n for yes and no."""
    key = _key(typed)
    for choice in field.choices:
        if key in (_key(choice.code), _key(choice.label)):
            return Word(choice.code, choice.label)
    short = YES_NO_KEYS.get(key)
    if short and any(choice.code == short for choice in field.choices):
        return Word(short, field.label_of(short))
    offered = ", ".join(choice.label for choice in field.choices)
    sentence = f"{field.name} {quoted(typed)} is not one of the answers. It takes: {offered}."
    return Unreadable("choice", sentence)


def read_text(field: Field, typed: str) -> Word | Unreadable:
    """One line of text: line breaks become spaces; control signs and overlength are refused."""
    line = " ".join(typed.split())
    if any(unicodedata.category(sign) in ("Cc", "Cs") for sign in line):
        return Unreadable("control", f"{field.name} holds a sign that cannot be shown.")
    if len(line) > field.longest:
        sentence = f"{field.name} is {len(line)} characters long. It takes {field.longest}."
        return Unreadable("too_long", sentence)
    return Word(line, line)


def read_day(field: Field, typed: str) -> Word | Unreadable:
    """A calendar day written year-month-day, in any script's digits."""
    text = plain(typed)
    day = _day(text) if _DAY.fullmatch(text) else None
    if day is None:
        sentence = f"{field.name} {quoted(typed)} is not a day. Write it as 2026-03-09."
        return Unreadable("day", sentence)
    return Word(day.isoformat(), day.isoformat())


def _day(text: str) -> date | None:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        return None
    return day if day.year >= EARLIEST_YEAR else None


def read_moment(field: Field, typed: str) -> Word | Unreadable:
    """A day and a time to the minute; an offset is kept; which zone is meant is the caller's."""
    text = plain(typed)
    moment = _moment(text) if _MOMENT.fullmatch(text) else None
    if moment is None:
        sentence = f"{field.name} {quoted(typed)} is not a time. Write it as 2026-03-09 07:30."
        return Unreadable("moment", sentence)
    stored = moment.isoformat(timespec="minutes")
    return Word(stored, stored.replace("T", " "))


def _moment(text: str) -> datetime | None:
    try:
        moment = datetime.fromisoformat(text)
    except ValueError:
        return None
    return moment if moment.year >= EARLIEST_YEAR else None
