"""`leeboard user`: who can sign in."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Annotated

import typer

from app.actions.add_person import PersonRefused, add_person
from app.actions.change_standing import change_standing
from app.actions.passwords import Passwords
from app.actions.permissions import role_words
from app.commands.opened import given_settings, opened_record, refuse
from app.commands.typed_password import PasswordFile, password_from
from app.main import utc_now
from app.record.database import Database
from app.record.errors import NotWritable
from app.record.people import IMPORTER, find_by_sign_in_name, list_people, set_up_person
from app.record.writing import Writing

app = typer.Typer(add_completion=False, no_args_is_help=True, help="Who can sign in.")

SignInName = Annotated[str, typer.Argument(help="What the person types to sign in.")]


@app.command("add")
def add(
    sign_in_name: SignInName,
    role: Annotated[str, typer.Option(help="therapist, lead, reader, student or auditor")],
    name: Annotated[str, typer.Option(help="As colleagues see it.")],
    password_file: PasswordFile = None,
) -> None:
    """Add somebody; the password is asked for and never shown."""
    with opened_record(given_settings()) as database:
        password = password_from(password_file)
        with _setting_up(database, "Not added") as writing:
            add_person(
                writing,
                Passwords(),
                sign_in_name=sign_in_name,
                display_name=name,
                role=role,
                password=password,
            )
    typer.echo(f"{name} can sign in as {sign_in_name}.")


@app.command("disable")
def disable(sign_in_name: SignInName) -> None:
    """End somebody's right to sign in; what they charted stays."""
    with (
        opened_record(given_settings()) as database,
        _setting_up(database, "Not changed") as writing,
    ):
        change_standing(writing, _id_of(writing, sign_in_name), active=False)
    typer.echo(f"{sign_in_name} can no longer sign in.")


@app.command("reset")
def reset(sign_in_name: SignInName, password_file: PasswordFile = None) -> None:
    """Give somebody a new password, and the right to sign in again."""
    with opened_record(given_settings()) as database:
        password = password_from(password_file)
        with _setting_up(database, "Not changed") as writing:
            who = _id_of(writing, sign_in_name)
            change_standing(writing, who, active=True, password=password, passwords=Passwords())
    typer.echo(f"{sign_in_name} has a new password; open sessions have ended.")


@app.command("list")
def show() -> None:
    """Everybody, with role and standing."""
    with opened_record(given_settings()) as database, database.reading() as session:
        for person in list_people(session):
            standing = "" if person.active else "  (disabled)"
            words = role_words(person.role)
            typer.echo(f"{person.sign_in_name:<16} {person.display_name:<20} {words}{standing}")


@contextmanager
def _setting_up(database: Database, refused_words: str) -> Iterator[Writing]:
    """One write by the set-up person; says why where the record or the action refuses."""
    try:
        with database.writing(utc_now) as writing:
            writing.author_id = set_up_person(writing)
            yield writing
    except PersonRefused as refused:
        refuse(f"{refused_words}: {refused}.")
    except NotWritable as error:
        refuse(f"{refused_words}: {error.why}.")


def _id_of(writing: Writing, sign_in_name: str) -> str:
    person = find_by_sign_in_name(writing.session, sign_in_name)
    if person is None or person.sign_in_name == IMPORTER:
        raise PersonRefused(f"nobody signs in as {sign_in_name}")
    return person.id
