"""From what is seen to a form as somebody would send it: typed, kept, or not measured and why."""

from collections.abc import Mapping
from datetime import datetime

from msgspec import Struct, field

from app.charting.facts import Kind
from app.charting.field import Field
from app.charting.fields import FIELDS
from app.charting.typed_check import TypedCheck
from app.charting.uses import fields_for, still_required

NOT_DONE = "not_measured"


class Sheet(Struct):
    """One bed's chart as its next check finds it: what was charted last of what can be kept."""

    last: dict[str, str] = field(default_factory=dict)

    def full(
        self,
        at: datetime,
        family: str,
        airway: str,
        seen: Mapping[str, str],
        reasons: Mapping[str, str],
    ) -> TypedCheck:
        """A routine check: settings and marks that stand as before are kept, the rest is typed.

        What the family asks for and nobody saw is not measured, with its reason.
        """
        shown = self._shown(fields_for(family, Kind.FULL, airway), seen, reasons)
        kept = frozenset(code for code, text in shown.items() if self.last.get(code) == text)
        typed = {code: text for code, text in shown.items() if code not in kept}
        missing = still_required(family, Kind.FULL, airway, {*shown, *reasons})
        unseen = {known.code: NOT_DONE for known in missing}
        asked = {known.code for known in fields_for(family, Kind.FULL, airway)}
        said = {code: why for code, why in reasons.items() if code in asked}
        self._remember(shown)
        return TypedCheck(Kind.FULL, at, family, typed, kept, unseen | said)

    def brief(self, at: datetime, family: str, airway: str, seen: Mapping[str, str]) -> TypedCheck:
        """A check after a change: what was changed, why, and how the patient answered."""
        shown = self._shown(fields_for(family, Kind.BRIEF, airway), seen, {})
        typed = {code: text for code, text in shown.items() if self.last.get(code) != text}
        self._remember(shown)
        return TypedCheck(Kind.BRIEF, at, family, typed)

    def _shown(
        self, asked: tuple[Field, ...], seen: Mapping[str, str], reasons: Mapping[str, str]
    ) -> dict[str, str]:
        return {
            known.code: seen[known.code]
            for known in asked
            if known.code in seen and known.code not in reasons
        }

    def _remember(self, shown: Mapping[str, str]) -> None:
        self.last |= {code: text for code, text in shown.items() if FIELDS[code].confirmable}


def gas(at: datetime, seen: Mapping[str, str]) -> TypedCheck:
    """A blood gas; its mode and oxygen are those in force at its time."""
    return TypedCheck(Kind.GAS, at, "", dict(seen))
