"""Add somebody to the staff, with a role and a password of their own."""

from app.actions.passwords import Passwords, complaint_about
from app.actions.permissions import Role
from app.record.people import as_sign_in_name, find_by_sign_in_name
from app.record.tables import StaffRow, StaffStandingRow
from app.record.writing import Writing


class PersonRefused(ValueError):  # noqa: N818 - it names a state that an operator has words for
    """The person cannot be added; the sentence says why."""


def add_person(
    writing: Writing,
    passwords: Passwords,
    *,
    sign_in_name: str,
    display_name: str,
    role: str,
    password: str,
) -> str:
    """Write the person and their standing; returns their id.

    Raises PersonRefused for an empty or taken name, an unknown role, or a password that cannot be
    taken.
    """
    name = as_sign_in_name(sign_in_name)
    if not name or not display_name.strip():
        raise PersonRefused("a person needs a name to sign in with and one that colleagues see")
    if find_by_sign_in_name(writing.session, name) is not None:
        raise PersonRefused(f"somebody signs in as {name!r} already")
    if role not in set(Role):
        raise PersonRefused(f"a role is one of {', '.join(Role)}")
    if complaint := complaint_about(password):
        raise PersonRefused(f"not this password: {complaint}")
    staff_id = writing.new_id()
    writing.add(StaffRow(id=staff_id, sign_in_name=name, display_name=display_name.strip()))
    writing.add(
        StaffStandingRow(
            staff_id=staff_id,
            role=role,
            password_hash=passwords.hash(password),
            since=writing.recorded_at,
        )
    )
    writing.audit("add_person", subject=("staff", staff_id), detail={"role": role})
    return staff_id
