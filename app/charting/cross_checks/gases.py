"""A blood gas against itself, against the monitor, and against the oxygen that was given.

Bounds are engineering judgement unless a source is named.
"""

from datetime import timedelta
from decimal import Decimal

from app.charting.cross_checks.finding import Findings, Seen, told
from app.charting.facts import Kind, Reading
from app.physiology.acid_base import hh_bicarbonate
from app.physiology.answer import Value
from app.physiology.gas_exchange import CEILING_TOLERANCE, alveolar_po2

SAME_TIME = timedelta(minutes=30)
"""How far apart a gas and a monitor's value may be to be compared."""
ETCO2_ABOVE = Decimal(5)
ETCO2_GAP = Decimal(15)
"""mmHg: end-tidal above arterial by more is a mismatch; below it by more is announced."""
BICARBONATE_WINDOW = Decimal(3)
"""mmol/L either side of Henderson-Hasselbalch (decision 21)."""
SATURATION_GAP = Decimal(4)

PACO2, PAO2, ETCO2 = "paco2", "pao2", "etco2_mmhg"


def specimen_not_named(seen: Seen) -> Findings:
    """Asked: a gas without its specimen; none is assumed, and none means no P/F (decision 25)."""
    if seen.row.kind is Kind.GAS and seen.word("gas_specimen") in ("", "unknown"):
        sentence = "Which specimen is it? Unknown, there is no P/F ratio."
        yield seen.question("specimen_not_named", ("gas_specimen",), sentence)


def _pair(seen: Seen, mine: str, other: str) -> tuple[Reading, Reading] | None:
    """A value of the gas and one of the monitor at the same time, whichever of the two is new.

    A venous specimen is not compared.
    """
    of_gas = seen.reading(mine)
    if of_gas is not None:
        venous = seen.word("gas_specimen") == "venous"
        of_monitor = seen.reading(other) or seen.context.previous.get(other)
    else:
        of_monitor, gas = seen.reading(other), seen.context.gas
        of_gas = gas.readings.get(mine) if gas else None
        specimen = gas.readings.get("gas_specimen") if gas else None
        venous = specimen is not None and specimen.word == "venous"
    if venous or of_gas is None or of_monitor is None:
        return None
    if not (of_gas.has_value and of_monitor.has_value):
        return None
    apart = abs(of_gas.observed_at - of_monitor.observed_at)
    return (of_gas, of_monitor) if apart <= SAME_TIME else None


def end_tidal_against_arterial(seen: Seen) -> Findings:
    """Asked: end-tidal more than 5 mmHg above arterial; announced: more than 15 below it."""
    pair = _pair(seen, PACO2, ETCO2)
    if pair is None or pair[0].number is None or pair[1].number is None:
        return
    arterial, end_tidal = pair[0].number, pair[1].number
    text = f"{told(ETCO2, end_tidal)} beside {told(PACO2, arterial)}"
    if end_tidal > arterial + ETCO2_ABOVE:
        sentence = f"{text}: unit or sample mixed up?"
        yield seen.question("end_tidal_above_arterial", (ETCO2, PACO2), sentence)
    elif arterial - end_tidal > ETCO2_GAP:
        yield seen.note("end_tidal_gap", (ETCO2, PACO2), f"{text}: a gap of more than 15.")


def saturation_gap(seen: Seen) -> Findings:
    """Asked: SpO2 and SaO2 more than 4 points apart (probe, haemoglobin species, venous sample)."""
    pair = _pair(seen, "sao2", "spo2")
    if pair is None or pair[0].number is None or pair[1].number is None:
        return
    if abs(pair[0].number - pair[1].number) > SATURATION_GAP:
        text = f"{told('spo2', pair[1].number)} beside {told('sao2', pair[0].number)}"
        sentence = f"{text}: probe, or venous sample?"
        yield seen.question("saturation_gap", ("spo2", "sao2"), sentence)


def oxygen_above_ceiling(seen: Seen) -> Findings:
    """Asked: PaO2 more than 20 mmHg above what its FiO2 allows, by the full form (decision 17)."""
    pao2, paco2, oxygen = seen.number(PAO2), seen.number(PACO2), _oxygen(seen)
    if pao2 is None or paco2 is None or oxygen is None:
        return
    pressure = seen.context.barometric_mmhg
    ceiling = alveolar_po2({"fio2": oxygen, "paco2": paco2, "pb": pressure})
    if isinstance(ceiling, Value) and pao2 > ceiling.number + CEILING_TOLERANCE:
        sentence = (
            f"{told(PAO2, pao2)} is above what FiO2 {oxygen.normalize():f} % allows "
            f"(about {ceiling.shown} mmHg). Which FiO2 was it at the sample?"
        )
        yield seen.question("oxygen_above_ceiling", (PAO2, "fio2_at_sample"), sentence)


def _oxygen(seen: Seen) -> Decimal | None:
    typed = seen.number("fio2_at_sample")
    return seen.set_number("fio2_set") if typed is None else typed


def oxygen_at_sample_differs(seen: Seen) -> Findings:
    """Asked: the slip's FiO2 is not the one in force at the sample's time (decision 25)."""
    typed, in_force = seen.number("fio2_at_sample"), seen.set_number("fio2_set")
    if typed is None or in_force is None or typed == in_force:
        return
    sentence = (
        f"{told('fio2_at_sample', typed)}; in force was {told('fio2_set', in_force)}. "
        "The slip's is used."
    )
    yield seen.question("oxygen_at_sample_differs", ("fio2_at_sample", "fio2_set"), sentence)


def bicarbonate_off(seen: Seen) -> Findings:
    """Asked: bicarbonate more than 3 mmol/L off Henderson-Hasselbalch (decision 21)."""
    ph, paco2, charted = seen.number("ph"), seen.number(PACO2), seen.number("hco3")
    if ph is None or paco2 is None or charted is None:
        return
    computed = hh_bicarbonate({"ph": ph, "paco2": paco2})
    if not isinstance(computed, Value):
        return
    if abs(Decimal(computed.shown) - charted) > BICARBONATE_WINDOW:
        sentence = (
            f"{told('hco3', charted)}; pH and PaCO2 give {computed.shown} mmol/L. Is the gas right?"
        )
        yield seen.question("bicarbonate_off", ("hco3", "ph", PACO2), sentence)
