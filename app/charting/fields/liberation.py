"""What is asked when a tube comes out: a checklist before, the cuff leak, what is breathed after.

No part of a check. Each item names its source; "common practice" and "from memory" say so.
"""

from app.charting.after_tube import AFTER_TUBE
from app.charting.field import Field, Group, Manner
from app.charting.fields.declare import JUDGED, PRACTICE, choice, number, text, yes_no

A = Group.AIRWAY
LIBERATION_2017 = "ATS/CHEST liberation guideline 2017, from memory."


def _asked(code: str, label: str, source: str = PRACTICE) -> Field:
    return yes_no(code, label, A, about=source, source=source)


_CHECKLIST = (
    _asked("ready_trial", "Breathing trial passed", LIBERATION_2017),
    _asked("ready_awake", "Awake enough to keep the airway open"),
    _asked("ready_cough", "Cough and secretions manageable"),
    _asked("ready_stomach", "Feeding stopped, stomach emptied"),
    _asked("ready_after", "Support afterwards decided", f"For high risk: {LIBERATION_2017}"),
    _asked("ready_gear", "Gear for another tube at the bed"),
    _asked("ready_capped", "Capped or closed tube tolerated"),
)
_LEAK = (
    number(
        "cuff_leak_percent",
        "Cuff leak, of the breath",
        A,
        Manner.MEASURED,
        "%",
        hard=("0", "100"),
        step="1",
        about="Under 10 to 25 % was tied to stridor afterwards: literature, from memory.",
        source=JUDGED,
    ),
    text(
        "cuff_leak_not_done",
        "Not tested, why",
        A,
        longest=60,
        about=f"Tested where the risk of stridor is high: {LIBERATION_2017}",
    ),
)
_AFTER = (
    choice(
        "breathes_now",
        "What the patient breathes now",
        A,
        tuple((each.code, each.label) for each in AFTER_TUBE.values()),
    ),
    yes_no("stridor", "Stridor", A),
    yes_no("voice", "Voice heard", A),
    text("tube_out_how", "How it came out", A, longest=100),
    choice("tube_in_again", "Re-intubated", A, (("no", "No, not re-intubated"),)),
)
ASKED_AT_LIBERATION: tuple[Field, ...] = (*_CHECKLIST, *_LEAK, *_AFTER)

OF_AN_EXTUBATION = (
    "ready_trial",
    "ready_awake",
    "ready_cough",
    "ready_stomach",
    "ready_after",
    "ready_gear",
)
OF_A_DECANNULATION = ("ready_awake", "ready_cough", "ready_capped", "ready_after", "ready_gear")
