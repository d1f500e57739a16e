"""How long a value says where the patient stands."""

from datetime import timedelta

from app.charting.field import Group
from app.charting.fields import FIELDS
from app.rules.policy import Policy

_OF_GROUP = {
    Group.SETTINGS: "settings",
    Group.HOLDS: "holds",
    Group.GAS: "gas",
    Group.AIRWAY: "airway",
}
_OF_INDEX = {"pf_ratio": "gas", "driving_pressure": "holds", "compliance_static": "holds"}


def stale_after(key: str, policy: Policy) -> timedelta:
    """How long a value of this field or index says where the patient stands (site setting)."""
    hours = policy.stale_h.get(stale_band(key), policy.stale_h["measured"])
    return timedelta(hours=float(hours))


def stale_band(key: str) -> str:
    """The entry of the policy that says so for this field or index."""
    if key in FIELDS:
        return _OF_GROUP.get(FIELDS[key].group, "measured")
    return _OF_INDEX.get(key, "measured")
