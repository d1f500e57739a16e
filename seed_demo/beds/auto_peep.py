"""L3: air stays in the chest; the faster the rate, the more of it."""

from datetime import time

from seed_demo.patient import Condition
from seed_demo.screens import screened
from seed_demo.story import Bedside, Manner, Phase, Room, Step, Story, Who, airway
from seed_demo.support import Support
from seed_demo.usual import SEDATED, volume_control
from seed_demo.wander import Arc, level
from seed_demo.when import Ago

NOTES = {
    "course": "Wheezing for a week, mask failed, tube three days ago.",
    "concern": "Raised. Air stays in the chest at this rate.",
    "danger": (
        "Pressure may fall if air stacks up. If it does: I take him off the circuit and let "
        "him breathe out, then call."
    ),
    "now": "Flow does not come back to zero before the next breath. Do both holds.",
    "todo": "Ask Dr Oak which rate and which pH we are after.",
    "if_then": "If total PEEP is 12 or more, then call Dr Oak before the next round.",
}

STORY = Story(
    bed="L3",
    headline="Auto-PEEP",
    told=(
        "The rate was raised for the carbon dioxide, twice. Total PEEP rose with it, and set PEEP "
        "alone would not show it: driving pressure is worked out from total PEEP."
    ),
    bedside=Bedside(
        who=Who(
            code="P-03",
            age_y=67,
            sex="M",
            height_cm="172",
            height_method="reported",
            height_source="wife",
            weight_kg="66",
            reason="Flare of chronic obstructive lung disease, tired out on the mask.",
            allergies="penicillin (rash)",
            spo2=(88, 92),
        ),
        condition=Condition(
            compliance=level(68),
            resistance=Arc(((-72, 21), (-30, 25), (-12, 33), (0, 34))),
            shunt=level(0.13),
            dead_space=Arc(((-72, 0.62), (-12, 0.69), (0, 0.70))),
            co2_production=210,
            bicarbonate=31.0,
            heart_rate=level(104),
            spread=0.04,
        ),
        airway=airway("ett_oral", "8.0", "23", depth_reference="lip", side="middle"),
        phases=(Phase(Support(*volume_control(440, 16, 5, 40, flow=50))),),
        steps=(
            Step(Ago(31), {"resp_rate_set": "20"}, "pH low on the last gas"),
            Step(Ago(14), {"resp_rate_set": "26"}, "PaCO2 no better"),
        ),
        started=Ago(80),
        room=Room(fio2=(30, 40), peep=(5, 5)),
        manner=Manner(
            seen={
                **SEDATED,
                "rass": "-4",
                "rass_target": "-4",
                "breath_sounds": "wheeze",
                "secretions_consistency": "thick",
                "etco2_waveform": "sloping",
            },
            plateau_missed=0.0,
            gas_times=(time(5, 20), time(13, 30), time(21, 30)),
        ),
        happenings=(screened("screen_cause"),),
        notes=NOTES,
    ),
)
