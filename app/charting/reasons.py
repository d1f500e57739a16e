"""Why there is no value: a reading of its own, never a blank (decision 9)."""

from app.charting.field import Choice

NOT_MEASURED_REASONS: tuple[Choice, ...] = (
    Choice("not_measured", "not measured this round"),
    Choice("not_due", "not due this round"),
    Choice("not_applicable", "not applicable"),
    Choice("effort", "effort"),
    Choice("leak", "leak"),
    Choice("unstable", "patient not stable enough"),
    Choice("unable", "unable, see note"),
    Choice("refused", "refused"),
    Choice("equipment_off", "equipment off"),
    Choice("away", "patient away"),
)
"""The reasons that a form offers; somebody may write words of their own instead."""

REASON_KEYS = {
    "n": "not_measured",
    "d": "not_due",
    "a": "not_applicable",
    "e": "effort",
    "l": "leak",
    "s": "unstable",
    "u": "unable",
    "r": "refused",
    "o": "equipment_off",
    "w": "away",
}
"""The letter that picks a reason from the keyboard; each stands once."""

_LABELS = {choice.code: choice.label for choice in NOT_MEASURED_REASONS}
_OWN_VERB = {"not_measured": "not measured this round", "not_due": "not due this round"}


def reason_words(reason: str) -> str:
    """The reason in a reader's words: the label of a code, or the words themselves."""
    return _LABELS.get(reason, reason)


def not_done(what: str, reason: str) -> str:
    """One clause for a page: "plateau not done: effort"; "plateau not due this round"."""
    if not reason:
        return f"{what} not done"
    if reason in _OWN_VERB:
        return f"{what} {_OWN_VERB[reason]}"
    return f"{what} not done: {reason_words(reason)}"
