"""L6: she breathes alone on support; a volume over the limit is information there."""

from datetime import time

from seed_demo.patient import Condition
from seed_demo.screens import FAILED_TRIAL, screened
from seed_demo.story import Bedside, Manner, Phase, Room, Story, Who, airway
from seed_demo.support import Support
from seed_demo.usual import AWAKE, SEDATED, pressure_support, volume_control
from seed_demo.wander import level
from seed_demo.when import Ago, At

SINCE = At(time(10, 5), 20)

NOTES = {
    "course": "Came in drowning in her own water. Five litres out, lungs clear.",
    "concern": "Low. She is comfortable and writes on the board.",
    "airway": "Strong cough, little to suction. She hates the tube holder.",
    "todo": "Breathing trial at the morning round if Dr Oak agrees.",
    "if_then": "If her rate passes 35, then back to the earlier support and call.",
}

STORY = Story(
    bed="L6",
    headline="On pressure support",
    told=(
        "Since the sedation was stopped she breathes alone. No driving pressure is worked out, and "
        "her large breaths are said once, as information."
    ),
    bedside=Bedside(
        who=Who(
            code="P-06",
            age_y=72,
            sex="F",
            height_cm="163",
            height_method="standing",
            weight_kg="60",
            reason="Heart failure with water in the lungs, better now.",
            code_limits="no chest compressions, otherwise full treatment",
            spo2=(92, 96),
        ),
        condition=Condition(
            compliance=level(54),
            resistance=level(9),
            shunt=level(0.10),
            own_rate=level(18.9),
            muscle_pressure=3,
            co2_production=190,
            heart_rate=level(88),
        ),
        airway=airway("ett_oral", "7.5", "21", depth_reference="lip", side="middle"),
        phases=(
            Phase(Support(*volume_control(360, 18, 8, 40))),
            Phase(Support(*pressure_support(8, 6, 35)), SINCE, "awake, good cough"),
        ),
        started=Ago(101),
        room=Room(fio2=(30, 50), peep=(6, 8)),
        manner=Manner(
            seen=SEDATED, then=((SINCE, AWAKE),), gas_times=(time(5, 15),), specimen="venous"
        ),
        happenings=(
            screened(),
            FAILED_TRIAL,
        ),
        notes=NOTES,
    ),
)
