"""Change how somebody stands: disable them, or give them a new password. Their sessions end."""

from app.actions.add_person import PersonRefused
from app.actions.passwords import Passwords, complaint_about
from app.record.people import find_person
from app.record.people import password_hash as kept_hash
from app.record.sessions import close_sessions_of
from app.record.tables import StaffStandingRow
from app.record.writing import Writing


def change_standing(
    writing: Writing,
    staff_id: str,
    *,
    active: bool,
    password: str | None = None,
    passwords: Passwords | None = None,
) -> None:
    """Write a new standing; the old one stays readable. Raises NotFound and PersonRefused.

    Without a new password the old one holds, unless the person was disabled: then there is none.
    """
    person = find_person(writing.session, staff_id)
    kept = kept_hash(writing.session, staff_id) if active else ""
    if password is not None:
        if complaint := complaint_about(password):
            raise PersonRefused(f"not this password: {complaint}")
        kept = (passwords or Passwords()).hash(password)
    writing.add(
        StaffStandingRow(
            staff_id=staff_id,
            role=person.role,
            password_hash=kept,
            active=active,
            since=writing.recorded_at,
        )
    )
    close_sessions_of(writing.session, staff_id)
    act = "disable_person" if not active else "reset_password"
    writing.audit(act, subject=("staff", staff_id))
