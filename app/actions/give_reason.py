"""Why somebody changes what was written: asked of every correction and strike, and kept with it."""

SHORTEST = 4
LONGEST = 200
"""Characters; what fits on one line of a page (engineering judgement)."""


class ReasonRefused(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was saved: there is no reason, or one that cannot be kept."""


def reason_in(text: str) -> str:
    """The reason as it is kept. Raises ReasonRefused."""
    reason = " ".join(text.split())
    if len(reason) < SHORTEST:
        raise ReasonRefused(f"Say why, in at least {SHORTEST} characters.")
    if len(reason) > LONGEST:
        raise ReasonRefused(f"{len(reason)} characters: a reason takes {LONGEST}.")
    return reason
