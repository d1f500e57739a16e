"""Asks an index in one line: plain numbers become the decimals that somebody would have typed."""

from decimal import Decimal

from app.physiology.answer import NotAvailable, Query, Value, Verdict
from app.physiology.catalogue import CATALOGUE


def given(**inputs):
    """Numbers as decimals; text, yes or no, and None as they are."""
    return {name: _typed(raw) for name, raw in inputs.items()}


def _typed(raw):
    is_number = isinstance(raw, int | float) and not isinstance(raw, bool)
    return Decimal(repr(raw)) if is_number else raw


def answer(key, **inputs):
    """Whatever the index answers."""
    return CATALOGUE[key].work_out(given(**inputs))


def value(key, **inputs):
    """The value; fails with the answer where there is none."""
    told = answer(key, **inputs)
    assert isinstance(told, Value), told
    return told


def shown(key, **inputs):
    """What a page would show."""
    return value(key, **inputs).shown


def band(key, **inputs):
    """The word of a class."""
    told = answer(key, **inputs)
    assert isinstance(told, Verdict), told
    return told.word


def unavailable(key, **inputs):
    """The answer that there is no number; fails where there is one, or a question."""
    told = answer(key, **inputs)
    assert isinstance(told, NotAvailable), told
    return told


def asked(key, **inputs):
    """The question's reason; fails where there is a number, or none to be had."""
    told = answer(key, **inputs)
    assert isinstance(told, Query), told
    return told.reason
