"""The few words that fit under a number or in its empty place; the explanation gives the rest.

The usual case is not said at every number: a volume is the measured one, a gas uses the FiO2 that
was in force. What differs from the usual is.
"""

from collections.abc import Sequence

USUAL = ("measured expired volume", "FiO2 in force at the sample", "FiO2 as typed with the sample")

_SHORTER = (
    ("from total PEEP", "total PEEP"),
    ("from set PEEP", "set PEEP"),
    ("from PEEP", "set PEEP"),
    ("set volume", "set VT"),
    ("on support", "support"),
)

_MISSING = {
    "pplat": "no plateau",
    "passive": "passive not answered",
    "height": "no height",
    "sex": "sex not stated",
    "pbw": "no height",
    "peep_total": "total PEEP not measured",
    "family": "mode not charted",
    "pao2": "no gas",
    "paco2": "no gas",
    "sample": "specimen not stated",
    "fio2": "no FiO2",
    "vt": "no volume",
    "vte": "no volume",
    "rr": "no rate",
    "spo2": "no SpO2",
    "ppeak": "no peak pressure",
    "pmean": "no mean pressure",
    "flow": "no set flow",
    "flow_pattern": "flow pattern not charted",
}

MOST = 26
"""Characters that a narrow column holds on two lines."""


def brief_basis(basis: str) -> str:
    """What must stand beside a number: "set PEEP", "support 10 cmH2O"; nothing for the usual."""
    clauses = (_shorter(clause) for clause in basis.split("; ") if clause not in USUAL)
    return "; ".join(clause for clause in clauses if clause)


def _shorter(clause: str) -> str:
    for long, short in _SHORTER:
        if clause.startswith(long):
            return short + clause.removeprefix(long).partition(":")[0]
    return clause


_SHORT_REASONS = (
    ("only for an arterial", "sample not arterial"),
    ("the FiO2 was stale", "FiO2 stale or wrong"),
    ("adult index", "adults only"),
    ("spontaneous effort", "not valid: effort"),
    ("did not come back", "not valid: leak"),
    ("not valid: leak", "not valid: leak"),
)


def brief_reason(reason: str, missing: Sequence[str] = ()) -> str:
    """Why there is no number, in a few words: "no plateau", "plateau not done: effort"."""
    for long, short in _SHORT_REASONS:
        if long in reason:
            return short
    if "not done" in reason or "not due" in reason:
        return reason
    known = next((_MISSING[name] for name in missing if name in _MISSING), "")
    return known or _clipped(reason)


def mid_sentence(label: str) -> str:
    """A label behind other words: "Driving pressure" loses its capital, "SpO2" and "PEEP" don't."""
    first = label.split(" ")[0]
    return label[:1].lower() + label[1:] if first[1:].islower() else label


def _clipped(reason: str) -> str:
    words = reason.split(":")[0].split(";")[0].split(" (")[0].strip()
    if len(words) <= MOST:
        return words
    return f"{words[:MOST].rsplit(' ', 1)[0]} …"
