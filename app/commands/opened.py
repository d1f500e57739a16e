"""Settings and record as a command needs them, with refusals that an operator can act on."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import NoReturn

import typer

from app.record.database import Database
from app.record.errors import NotReadable
from app.record.migrate import is_current
from app.settings import Settings, SettingsError

REFUSED = 2
"""Exit status of a command that did nothing because something was wrong beforehand."""


def refuse(*words: str) -> NoReturn:
    """Say why nothing was done, and stop."""
    for line in words:
        typer.echo(line, err=True)
    raise typer.Exit(REFUSED)


def given_settings() -> Settings:
    """The settings of this process. Refuses with every variable that is wrong."""
    try:
        return Settings.from_process()
    except SettingsError as error:
        refuse(*error.problems)


def required_secret(settings: Settings) -> str:
    """The secret. Refuses when there is none."""
    try:
        return settings.required_secret()
    except SettingsError as error:
        refuse(*error.problems)


def open_record(settings: Settings) -> Database:
    """The record, when it has this version's schema. Refuses otherwise."""
    database = Database(settings.database_url)
    try:
        if database.has_begun and is_current(database):
            return database
    except NotReadable as error:
        database.close()
        refuse(f"The record cannot be read: {error.why}.")
    database.close()
    refuse("The record is empty or of another version: run `leeboard migrate` first.")


@contextmanager
def opened_record(settings: Settings) -> Iterator[Database]:
    """The same, closed at the end of the command."""
    database = open_record(settings)
    try:
        yield database
    finally:
        database.close()
