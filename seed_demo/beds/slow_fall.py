"""L4: every single value is within the limits; only the course tells."""

from datetime import time

from seed_demo.patient import Condition
from seed_demo.screens import screened
from seed_demo.story import Bedside, Manner, Phase, Room, Story, Who, airway
from seed_demo.support import Support
from seed_demo.usual import SEDATED, volume_control
from seed_demo.wander import Arc
from seed_demo.when import Ago, At

NOTES = {
    "course": "Pancreatitis. Belly tight, some litres ahead.",
    "concern": "Raised. Each number is fine, the run of them is not.",
    "changed": "A little more oxygen. Nothing else was touched.",
    "now": "Belly is tighter than two days ago, I think that is part of it.",
    "todo": "Bladder pressure was asked for and not done yet.",
    "if_then": "If driving pressure passes 15, then tell Dr Oak at the round.",
}

STORY = Story(
    bed="L4",
    headline="A slow fall of compliance",
    told=(
        "No value is over a limit, yet compliance has lost a third in two days. One night check "
        "was written down two hours after it was made, and says so."
    ),
    bedside=Bedside(
        who=Who(
            code="P-04",
            age_y=49,
            sex="M",
            height_cm="183",
            height_method="standing",
            height_source="driver's licence",
            weight_kg="97",
            reason="Pancreatitis, much fluid in the first days.",
            spo2=(92, 96),
            tidal_volume_ml_kg="6.0",
        ),
        condition=Condition(
            compliance=Arc(((-72, 56), (-46, 55), (0, 37))),
            resistance=Arc(((0, 10),)),
            shunt=Arc(((-72, 0.13), (-46, 0.14), (0, 0.21))),
            heart_rate=Arc(((-72, 92), (0, 101))),
            spread=0.03,
        ),
        airway=airway("ett_oral", "8.0", "24", depth_reference="lip", side="left"),
        phases=(Phase(Support(*volume_control(460, 18, 8, 40))),),
        started=Ago(130),
        room=Room(fio2=(35, 60), peep=(8, 10), rate=(16, 22)),
        manner=Manner(
            seen={**SEDATED, "breath_sounds": "diminished_both"},
            plateau_missed=0.05,
            late_rounds=(At(time(3, 30), 20),),
            gas_times=(time(5, 10), time(17, 20)),
        ),
        happenings=(screened("screen_cause"),),
        notes=NOTES,
    ),
)
