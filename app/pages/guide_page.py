"""The guide on one page: for each page, what its numbers are, may they be trusted, what comes next.

One table, so that the guide and the link from a page's foot say the same. It says what the program
does, never what to do for a patient (decisions 11 and 35).
"""

from msgspec import Struct

from app.pages.frame import Frame


class Guidance(Struct, frozen=True):
    """One page: what is on it, what its numbers rest on, and what a reader does there."""

    key: str
    name: str
    what: str
    trust: str
    act: str


class GuidePage(Struct, frozen=True):
    """Every page on one sheet."""

    frame: Frame
    entries: tuple[Guidance, ...]


GUIDE: tuple[Guidance, ...] = (
    Guidance(
        "mine",
        "My beds",
        "The beds that you have by acceptance, what is due at them in two hours, and under them "
        "those that you cover for a colleague or are assigned to.",
        "Times are the unit's rounds, orders and rules. A paused bed has nothing due meanwhile.",
        "Open a bed, chart a check, or go to its handoff.",
    ),
    Guidance(
        "board",
        "Board",
        "One row for each bed: who, airway, support, lungs, gas, worry, next.",
        "An open line is a value that nobody has; a hatch is one that cannot hold here. An "
        "old value is drawn as old. No flag raised does not mean safe.",
        "Read the worry, open the bed.",
    ),
    Guidance(
        "scan",
        "Scan",
        "Beds in order of worry with one line each, what is open, and who has how much.",
        "It stays as it was read; when the unit changes, a line offers it anew. The order is for "
        "looking and is no score.",
        "Open the first beds; look at what waits for a signature or an acceptance.",
    ),
    Guidance(
        "assignments",
        "Assignments",
        "Who is to have which bed this shift and the next, who has it now, who covers for whom.",
        "A plan and no more: a bed is whose who accepted it. The counts behind the hint are of "
        "what is charted and due; their weights are engineering judgement.",
        "A lead chooses from a list for each bed; anybody at the bedside records a cover.",
    ),
    Guidance(
        "bed",
        "Bed",
        "What changed since you last looked, what is true now, what stands out, the last day.",
        "Every number opens to its inputs, formula, time and source. Corrected values say so.",
        "Chart a check, an event, a gas; answer a flag; write what comes next.",
    ),
    Guidance(
        "check",
        "Check",
        "The fields of this round, from the door to the blood gas.",
        "A setting can be confirmed after looking; a measured value is typed or is not measured, "
        "with the reason. Nothing is carried over as if somebody had looked.",
        "Enter goes on; what is unusual is asked about once and can be saved as found.",
    ),
    Guidance(
        "trends",
        "Trends",
        "Settings as steps, measured values as points, worked-out values with their gaps.",
        "A gap is a check where the value does not hold; the table says why. Shaded is what lay "
        "outside the range in force at that time.",
        "Move along a picture with the arrow keys, or open its values.",
    ),
    Guidance(
        "timeline",
        "Timeline",
        "The whole course: places, airway, modes, what lasted, what happened, handoffs, its end.",
        "It tells what was written down with its time; a gap says that nothing was, no more.",
        "Read it by day; open a line that leads to its row.",
    ),
    Guidance(
        "place",
        "Where the patient is",
        "The bed now and before, moves of one patient or of two, out and back, and the end.",
        "Record, tasks and handoff follow the patient. No bed holds two patients, at no time.",
        "Move, let two change places, close a course; take an end back that was wrong.",
    ),
    Guidance(
        "flags",
        "Flags",
        "What raised the flags of one cause: rule, values, limit, source, history.",
        "A flag compares charted values with what the unit set. Age never clears it.",
        "Say that you saw it and what is planned, or mute it for a time with a reason.",
    ),
    Guidance(
        "handoff",
        "Handoff",
        "The page of a bed for whoever comes, with what changed since it was offered.",
        "What was offered is kept as it was read. The bed is the giver's until somebody accepts.",
        "Offer it, or restate and accept it; ask back where something is unclear.",
    ),
    Guidance(
        "policy",
        "Policy",
        "Every number that this unit set: limits, rounds, rules, each with its source and author.",
        "A value is judged by the version in force when it was observed. A patient's own range "
        "takes the unit's place where somebody ordered one.",
        "Read it; a lead changes it after a look at what it would have raised.",
    ),
)
"""In the order in which a shift meets them."""
