"""L9: extubated yesterday, on high-flow oxygen; mechanics have no meaning there."""

from datetime import time

from seed_demo.patient import Condition
from seed_demo.story import (
    Bedside,
    Happening,
    Manner,
    NewAirway,
    Phase,
    Room,
    Story,
    Who,
    airway,
)
from seed_demo.support import Support
from seed_demo.usual import AWAKE, SEDATED, high_flow, pressure_support, volume_control
from seed_demo.wander import Arc, level
from seed_demo.when import Ago, At

TRIAL, OUT = At(time(9, 0), 26), At(time(10, 40), 14)

NOTES = {
    "course": "Rib fracture, pneumonia, six days of tube.",
    "concern": "Raised. He tires towards the evening.",
    "airway": "Coughs up by himself. Teeth are out, in the drawer.",
    "todo": "Cannula breaks for meals only. Walk to the chair twice.",
    "if_then": "If his rate stays over 30, then call Dr Oak; tube was easy, 8.0 at 23.",
}

STORY = Story(
    bed="L9",
    headline="High-flow after extubation",
    told=(
        "From volume control over pressure support to a cannula. Driving pressure and compliance "
        "end with the tube; the ratio of oxygenation to rate takes their place."
    ),
    bedside=Bedside(
        who=Who(
            code="P-09",
            age_y=70,
            sex="M",
            height_cm="171",
            height_method="standing",
            weight_kg="79",
            reason="Pneumonia after a broken rib.",
            spo2=(92, 96),
        ),
        condition=Condition(
            compliance=level(50),
            resistance=level(10),
            shunt=Arc(((-72, 0.14), (-14, 0.14), (0, 0.16))),
            own_rate=Arc(((-72, 18), (-14, 22), (0, 24))),
            muscle_pressure=3,
            heart_rate=level(92),
        ),
        airway=airway("ett_oral", "8.0", "23", depth_reference="lip", side="right"),
        airways=(NewAirway(OUT, "placed", airway("nasal_cannula")),),
        phases=(
            Phase(Support(*volume_control(440, 18, 8, 40))),
            Phase(Support(*pressure_support(8, 5, 35)), TRIAL, "awake, trial of breathing alone"),
            Phase(Support(*high_flow(50, 45)), OUT, "extubated"),
        ),
        started=Ago(146),
        room=Room(fio2=(35, 60), peep=(5, 8)),
        manner=Manner(
            seen=SEDATED,
            then=((TRIAL, AWAKE), (OUT, {"position": "sitting", "work_of_breathing": "mild"})),
        ),
        happenings=(
            Happening("extubation", OUT, "Extubated as planned, strong cough, voice, no stridor"),
        ),
        notes=NOTES,
        by_day="cedar",
    ),
)
