"""Sign a browser out: its session ends in the store, so that a copied cookie is worth nothing."""

from app.record.sessions import close_session
from app.record.writing import Writing


def sign_out(writing: Writing, token: str) -> None:
    """End the session of that token."""
    close_session(writing.session, token)
    writing.audit("sign_out")
