"""What stands beside the ventilator: the order, inhaled nitric oxide, extracorporeal support."""

from app.charting.field import Field, Group, Manner
from app.charting.fields.declare import GUARD, JUDGED, number, text, yes_no

G = Group.SETTINGS
SET = Manner.SETTING

ADJUNCTS: tuple[Field, ...] = (
    number(
        "tidal_volume_target_ml_kg",
        "Tidal volume ordered",
        G,
        Manner.STATED,
        "mL/kg PBW",
        hard=("2", "15"),
        soft=("4", "8"),
        step="0.5",
        places=1,
        source=f"4 to 8 mL/kg: ATS/ESICM/SCCM 2017. {JUDGED}",
        about="Per kilogram of predicted body weight, as ordered.",
    ),
    text("ordered_by", "Ordered by", G, longest=80, about="Who gave the order."),
    yes_no("orders_match", "Settings match the orders", G, about="The order is never charted."),
    text(
        "change_reason",
        "Why it was changed, and who ordered it",
        G,
        short="Why changed",
        about="In a person's words: “oxygen down, Dr Oak”.",
    ),
    number(
        "nitric_oxide_ppm",
        "Inhaled nitric oxide",
        G,
        SET,
        "ppm",
        hard=("0", "80"),
        soft=("0", "40"),
        step="0.1",
        places=1,
        trim=True,
        short="NO",
        about="Parts per million in the inspired gas.",
    ),
    number(
        "ecmo_sweep_lpm",
        "ECMO sweep",
        G,
        SET,
        "L/min",
        hard=("0", "20"),
        soft=("0.5", "12"),
        step="0.1",
        places=1,
        about="Gas flow through the membrane.",
    ),
    number(
        "ecmo_flow_lpm",
        "ECMO blood flow",
        G,
        Manner.MEASURED,
        "L/min",
        hard=("0", "10"),
        soft=("1", "7"),
        step="0.1",
        places=1,
        about="As shown by the circuit.",
    ),
    number(
        "ecmo_fdo2",
        "ECMO FdO2",
        G,
        SET,
        "%",
        hard=("21", "100"),
        source=f"Charted in percent as FiO2 is. {GUARD}",
        about="Oxygen in the sweep gas, in percent; 0.21 to 1.0 is taken as a fraction.",
    ),
)
