"""L10: nobody knows how tall he is, so nobody knows whether his volume fits."""

from datetime import time

from seed_demo.patient import Condition
from seed_demo.story import Bedside, Manner, Phase, Room, Story, Who, airway
from seed_demo.support import Support
from seed_demo.usual import SEDATED, volume_targeted
from seed_demo.wander import level
from seed_demo.when import Ago

STORY = Story(
    bed="L10",
    headline="A missing height",
    told=(
        "Brought in alone, height not measured. Without it there is no predicted weight, and the "
        "volume per kilogram cannot be judged. Nobody has written a handoff note either."
    ),
    bedside=Bedside(
        who=Who(
            code="P-10",
            age_y=50,
            sex="M",
            reason="Found unconscious in the street; seizures.",
            allergies="not known",
            code_limits="not known, full treatment until family is found",
            spo2=(92, 96),
            birth_date_known=False,
        ),
        condition=Condition(
            compliance=level(48), resistance=level(11), shunt=level(0.12), heart_rate=level(90)
        ),
        airway=airway("ett_oral", "8.0", "23", depth_reference="lip", side="middle"),
        phases=(Phase(Support(*volume_targeted(450, "0.9", 18, 6, 40))),),
        started=Ago(27),
        room=Room(fio2=(30, 50), peep=(5, 8), rate=(14, 22)),
        manner=Manner(
            seen={**SEDATED, "secretions_amount": "scant"},
            plateau_missed=0.10,
            gas_times=(time(5, 25), time(18, 20)),
        ),
        by_day="cedar",
    ),
)
