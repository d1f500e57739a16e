"""What HTTP alone can refuse; each error carries what its page needs to say."""

# ruff: noqa: N818 - the names are what happened to a request, and each has a page of words

from datetime import timedelta


class WebError(Exception):
    """A request that is answered with a page of trouble."""


class UnknownHost(WebError):
    """The request names a host that this site does not go by."""


class BodyTooLarge(WebError):
    """The request carries more than it may."""

    def __init__(self, most_bytes: int) -> None:
        super().__init__(f"more than {most_bytes} bytes")
        self.most_bytes = most_bytes


class BodyTooSlow(WebError):
    """The request took too long to arrive."""


class NotAForm(WebError):
    """The body is of a kind that no page here sends."""


class BadForm(WebError):
    """The form cannot be read; `why` says what is wrong without quoting it."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why


class FormNotOurs(WebError):
    """The form does not prove that it came from a page of this session."""


class NeedsSignIn(WebError):
    """Nobody is signed in, or the session has come to its end."""


class NotSetUp(WebError):
    """The site has no unit yet, so there is nothing to show."""


class OtherPatient(WebError):
    """The form was opened for another course than the one that it was sent to."""


class MayNot(WebError):
    """The person's role does not cover the act."""

    def __init__(self, role: str, act: str) -> None:
        super().__init__(f"{role} may not {act}")
        self.role = role
        self.act = act


class TooBusy(WebError):
    """More is waiting than can be done in reasonable time."""

    def __init__(self, wait: timedelta) -> None:
        super().__init__(f"try again in {wait}")
        self.wait = wait
