"""`leeboard user`: who can sign in."""

from typing import Annotated

import typer

from app.actions.add_person import PersonRefused, add_person
from app.actions.change_standing import change_standing
from app.actions.passwords import Passwords
from app.actions.permissions import role_words
from app.commands.opened import given_settings, open_record, refuse
from app.main import utc_now
from app.record.people import find_by_sign_in_name, list_people, set_up_person
from app.record.writing import Writing

app = typer.Typer(add_completion=False, no_args_is_help=True, help="Who can sign in.")

SignInName = Annotated[str, typer.Argument(help="What the person types to sign in.")]
Password = Annotated[
    str, typer.Option(prompt=True, hide_input=True, confirmation_prompt=True, help="Asked for.")
]


@app.command("add")
def add(
    sign_in_name: SignInName,
    role: Annotated[str, typer.Option(help="therapist, lead, reader, student or auditor")],
    name: Annotated[str, typer.Option(help="As colleagues see it.")],
    password: Password,
) -> None:
    """Add somebody; the password is asked for and never shown."""
    database = open_record(given_settings())
    with database.writing(utc_now) as writing:
        writing.author_id = set_up_person(writing)
        try:
            add_person(
                writing,
                Passwords(),
                sign_in_name=sign_in_name,
                display_name=name,
                role=role,
                password=password,
            )
        except PersonRefused as refused:
            refuse(f"Not added: {refused}.")
    typer.echo(f"{name} can sign in as {sign_in_name}.")


@app.command("disable")
def disable(sign_in_name: SignInName) -> None:
    """End somebody's right to sign in; what they charted stays."""
    database = open_record(given_settings())
    with database.writing(utc_now) as writing:
        change_standing(writing, _id_of(writing, sign_in_name), active=False)
    typer.echo(f"{sign_in_name} can no longer sign in.")


@app.command("reset")
def reset(sign_in_name: SignInName, password: Password) -> None:
    """Give somebody a new password, and the right to sign in again."""
    database = open_record(given_settings())
    with database.writing(utc_now) as writing:
        who = _id_of(writing, sign_in_name)
        try:
            change_standing(writing, who, active=True, password=password, passwords=Passwords())
        except PersonRefused as refused:
            refuse(f"Not changed: {refused}.")
    typer.echo(f"{sign_in_name} has a new password; open sessions have ended.")


@app.command("list")
def show() -> None:
    """Everybody, with role and standing."""
    database = open_record(given_settings())
    with database.reading() as session:
        for person in list_people(session):
            standing = "" if person.active else "  (disabled)"
            words = role_words(person.role)
            typer.echo(f"{person.sign_in_name:<16} {person.display_name:<20} {words}{standing}")


def _id_of(writing: Writing, sign_in_name: str) -> str:
    writing.author_id = set_up_person(writing)
    person = find_by_sign_in_name(writing.session, sign_in_name)
    if person is None:
        refuse(f"Nobody signs in as {sign_in_name}.")
    return person.id
