"""A lead puts another version of the unit's policy in force, from this moment on.

What was observed before stays judged by the version then in force (decision 13).
"""

from msgspec import Struct

from app.actions.refresh_summary import refresh_summary
from app.actions.sent_once import did_before, keep_sent
from app.record.beds import occupants
from app.record.policies import next_policy_version, policy_in_force
from app.record.tables import PolicyRow
from app.record.writing import Writing
from app.rules.policy_check import read_strictly
from app.rules.policy_tree import differences, shipped_tree, to_toml, tree_of

LONGEST_REASON = 300


class Proposal(Struct, frozen=True):
    """A policy in its file form, the version from which it was made, and why it is proposed."""

    toml: str
    base: int
    reason: str


class AdoptionRefused(ValueError):  # noqa: N818 - it names a state that a page has words for
    """Nothing was put in force; the sentence says why."""


def adopt_policy(writing: Writing, unit_id: str, proposal: Proposal, *, save_key: str = "") -> int:
    """Write the next version and bring every bed's line up to it; returns its number.

    Raises AdoptionRefused, PolicyRefused for a policy that cannot stand, and KeyReused.
    """
    content = {"toml": proposal.toml, "base": proposal.base, "reason": proposal.reason}
    done = did_before(writing, "", save_key, content)
    if done is not None:
        return int(done)
    reason = " ".join(proposal.reason.split())
    text = _text(writing, unit_id, proposal, reason)
    version = next_policy_version(writing.session, unit_id)
    row = PolicyRow(
        unit_id=unit_id,
        version=version,
        toml=text,
        reason=reason,
        in_force_from=writing.recorded_at,
    )
    writing.add(row)
    writing.audit("adopt_policy", subject=row, detail={"version": version})
    for course_id in sorted(occupants(writing.session, unit_id).values()):
        refresh_summary(writing, course_id)
    keep_sent(writing, "", save_key, content, str(version))
    return version


def _text(writing: Writing, unit_id: str, proposal: Proposal, reason: str) -> str:
    """The file that is kept: what was proposed, with the reason that was given for it."""
    held = policy_in_force(writing.session, unit_id, writing.recorded_at)
    if proposal.base != (held.version if held is not None else 0):
        raise AdoptionRefused(
            "Another version was put in force meanwhile. What differs from it stands below: "
            "look at it again before you adopt."
        )
    if not reason or len(reason) > LONGEST_REASON:
        raise AdoptionRefused(f"Say why, in at most {LONGEST_REASON} letters.")
    read_strictly(proposal.toml)
    tree = tree_of(proposal.toml)
    in_force = tree_of(held.toml) if held is not None else shipped_tree()
    if all(change.where == "reason" for change in differences(in_force, tree)):
        raise AdoptionRefused("Nothing differs from the version in force.")
    return to_toml({**tree, "reason": reason})
