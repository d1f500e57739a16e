"""L1: nothing happens, and the page says no more than that."""

from datetime import time

from seed_demo.patient import Condition
from seed_demo.screens import screened
from seed_demo.story import Bedside, Manner, Phase, Slip, Story, Who, airway
from seed_demo.support import Support
from seed_demo.usual import SEDATED, volume_control
from seed_demo.wander import level
from seed_demo.when import Ago, At

NOTES = {
    "course": "Asleep after a long bowel operation. The surgeons want a second look.",
    "concern": "Low. Nothing new in three days.",
    "todo": "Ask the surgeons when theatre is. Sedation hold waits for that.",
    "if_then": "None expected: lungs good, moved little air pressure needed all along.",
    "gaps": "Heart rate 28 in the night check was a slip of the key, it was 82.",
}

STORY = Story(
    bed="L1",
    headline="A quiet one",
    told=(
        "Three days in which nothing leaves the range. One heart rate is a slip of the key that "
        "was asked about and let stand; it stays readable, with the question."
    ),
    bedside=Bedside(
        who=Who(
            code="P-01",
            age_y=64,
            sex="M",
            height_cm="178",
            height_method="standing",
            height_source="anaesthesia record",
            weight_kg="84",
            reason="Kept asleep after a long bowel operation, second look planned.",
            spo2=(94, 98),
            tidal_volume_ml_kg="6.0",
        ),
        condition=Condition(
            compliance=level(58), resistance=level(9), shunt=level(0.07), heart_rate=level(80)
        ),
        airway=airway("ett_oral", "8.0", "23", depth_reference="lip", side="right"),
        phases=(Phase(Support(*volume_control(440, 16, 6, 35))),),
        started=Ago(92),
        manner=Manner(
            seen=SEDATED,
            slips=(Slip(At(time(3, 30), 14), "heart_rate", "28"),),
        ),
        happenings=(screened("screen_awake"),),
        notes=NOTES,
    ),
)
