"""L5: no hold was ever possible, so mechanics cannot be judged."""

from datetime import time

from seed_demo.patient import Condition
from seed_demo.screens import screened
from seed_demo.story import Bedside, Manner, Phase, Room, Story, Who, airway
from seed_demo.support import Support
from seed_demo.usual import SEDATED, volume_control
from seed_demo.wander import level
from seed_demo.when import Ago

NOTES = {
    "course": "Found at home, vomited, tube the same night.",
    "concern": "Raised. Restless, and I cannot tell you how stiff she is.",
    "danger": "She reaches for the tube. Hands are held by the nurse when we turn her.",
    "todo": "Try both holds once when she sleeps. Sedation is being talked about.",
    "if_then": "If she pulls the tube out, then mask first and call Dr Oak by phone.",
    "gaps": "No plateau and no total PEEP in three days, each time for effort.",
}

STORY = Story(
    bed="L5",
    headline="A plateau never done",
    told=(
        "She fights every hold. Driving pressure and compliance have never been known, and the bed "
        "counts as not evaluable, not as within limits."
    ),
    bedside=Bedside(
        who=Who(
            code="P-05",
            age_y=41,
            sex="F",
            height_cm="168",
            height_method="reported",
            height_source="sister",
            weight_kg="63",
            reason="Overdose, aspiration on the right side.",
            spo2=(92, 96),
        ),
        condition=Condition(
            compliance=level(42),
            resistance=level(11),
            shunt=level(0.17),
            own_rate=level(26),
            muscle_pressure=4,
            heart_rate=level(108),
            mean_pressure=level(84),
            co2_production=240,
        ),
        airway=airway("ett_oral", "7.0", "21", depth_reference="lip", side="right"),
        phases=(Phase(Support(*volume_control(400, 18, 8, 45))),),
        started=Ago(77),
        room=Room(fio2=(35, 60), peep=(8, 10)),
        manner=Manner(
            seen={
                **SEDATED,
                "work_of_breathing": "accessory",
                "rass": "1",
                "rass_target": "-1",
                "synchrony": "double",
                "cough": "strong",
                "breath_sounds": "diminished_right",
                "secretions_amount": "moderate",
            },
            plateau_missed=1.0,
            hold_reason="effort",
            passive=False,
            gas_times=(time(5, 30), time(16, 40)),
        ),
        happenings=(screened("screen_awake"),),
        notes=NOTES,
    ),
)
