"""L9: screened, tried and extubated to high-flow oxygen; mechanics have no meaning there."""

from datetime import time

from app.charting.fields.liberation import OF_AN_EXTUBATION
from seed_demo.patient import Condition
from seed_demo.screens import passed_trial, screened
from seed_demo.story import (
    Bedside,
    Extubated,
    Manner,
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

AWAKE_SINCE, OUT = At(time(9, 0), 26), At(time(10, 40), 14)
SCREENED, TRIED = At(time(5, 20), 14 + 16 / 3), At(time(9, 30), 14 + 7 / 6)
"""On the morning of the extubation: as much further back as they lie before it."""

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
        "Screened, an hour's breathing trial passed, extubated as planned to a cannula. Driving "
        "pressure and compliance end with the tube; the ratio of oxygenation to rate takes their "
        "place."
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
        extubated=Extubated(
            OUT,
            {
                **dict.fromkeys(OF_AN_EXTUBATION, "yes"),
                "breathes_now": "high_flow",
                "stridor": "no",
                "voice": "yes",
            },
            "220",
        ),
        phases=(
            Phase(Support(*volume_control(440, 18, 8, 40))),
            Phase(Support(*pressure_support(8, 5, 35)), AWAKE_SINCE, "awake, breathes alone"),
            Phase(Support(*high_flow(50, 45)), OUT, "extubated"),
        ),
        started=Ago(146),
        room=Room(fio2=(35, 60), peep=(5, 8)),
        manner=Manner(
            seen=SEDATED,
            then=(
                (AWAKE_SINCE, AWAKE),
                (OUT, {"position": "sitting", "work_of_breathing": "mild"}),
            ),
        ),
        happenings=(screened(at=SCREENED), passed_trial(TRIED)),
        notes=NOTES,
        by_day="cedar",
    ),
)
