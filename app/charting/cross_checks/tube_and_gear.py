"""The tube against where it was, the cuff, the humidifier, and alarm limits against the patient.

Bounds are engineering judgement or common practice unless a source is named.
"""

from decimal import Decimal

from app.charting.cross_checks.finding import Findings, Seen, told

DEPTH, SIZE = "airway_depth_cm", "airway_size_mm"
DEPTH_STEP = Decimal(1)
LOW_VOLUME = Decimal(6)
"""mL/kg PBW under which an HME is hinted at: not with low tidal volumes (AARC 2012, its word "low";
the figure is engineering judgement)."""
ALARM_ROOM = Decimal(20)
"""cmH2O of room above the peak beyond which a pressure alarm is said to be wide."""


def depth_changed(seen: Seen) -> Findings:
    """Asked: the mark moved by 1 cm or more from the last one, or from where it was placed."""
    depth, last = seen.number(DEPTH), _last_depth(seen)
    if depth is None or last is None or _other_reference(seen):
        return
    if abs(depth - last) >= DEPTH_STEP:
        sentence = f"{told(DEPTH, depth)}, was {last.normalize():f} cm. Has the tube moved?"
        yield seen.question("depth_changed", (DEPTH,), sentence)


def _last_depth(seen: Seen) -> Decimal | None:
    """The newest depth: a new or moved airway since the last reading is the one to compare with."""
    reading, airway = seen.context.previous.get(DEPTH), seen.context.airway
    if airway is None or (reading is not None and reading.observed_at >= airway.observed_at):
        return seen.before(DEPTH)
    return airway.depth_cm


def _reference_before(seen: Seen) -> str:
    reading = seen.context.previous.get("airway_depth_reference")
    if reading is not None and reading.has_value:
        return reading.word
    return seen.context.airway.depth_reference if seen.context.airway else ""


def _other_reference(seen: Seen) -> bool:
    now, before = seen.word("airway_depth_reference"), _reference_before(seen)
    return bool(now and before and now != before)


def depth_without_reference(seen: Seen) -> Findings:
    """Asked: a depth with no reference, now or before; no later one could be compared with it."""
    if seen.number(DEPTH) is None or seen.word("airway_depth_reference"):
        return
    if not _reference_before(seen):
        sentence = "At which mark was the depth read: teeth, gum, lip, naris or flange?"
        yield seen.question("depth_without_reference", (DEPTH, "airway_depth_reference"), sentence)


def reference_changed(seen: Seen) -> Findings:
    """Noted: the depth is read at another mark than before, so the two are not compared."""
    if seen.number(DEPTH) is not None and _other_reference(seen):
        sentence = "The depth is read at another mark than before; the two are not compared."
        yield seen.note("depth_reference_changed", ("airway_depth_reference",), sentence)


def size_changed(seen: Seen) -> Findings:
    """Blocked: another tube size than the tube in place, with no exchange recorded."""
    size, airway = seen.number(SIZE), seen.context.airway
    if size is None or airway is None or airway.size_mm is None or size == airway.size_mm:
        return
    sentence = (
        f"{told(SIZE, size)}; the tube in place is {airway.size_mm.normalize():f} mm and no "
        "exchange is recorded."
    )
    yield seen.block("tube_size_changed", (SIZE,), sentence)


def cuff_pressure_without_cuff(seen: Seen) -> Findings:
    """Asked: a cuff pressure beside a cuff that is down or absent."""
    if seen.number("cuff_pressure_cmh2o") is not None and seen.word("cuff_state") in (
        "down",
        "none",
    ):
        sentence = "A cuff pressure is charted and the cuff is charted as down or absent."
        yield seen.question(
            "cuff_pressure_without_cuff", ("cuff_pressure_cmh2o", "cuff_state"), sentence
        )


def speaking_valve_on_a_cuff(seen: Seen) -> Findings:
    """Blocked: a speaking valve with the cuff up: no way out for the breath (common practice)."""
    if seen.word("speaking_valve") == "yes" and seen.word("cuff_state") == "up":
        sentence = "Speaking valve on and cuff up: there is no way out for the breath."
        yield seen.block("speaking_valve_on_a_cuff", ("speaking_valve", "cuff_state"), sentence)


def two_humidifiers(seen: Seen) -> Findings:
    """Blocked: HME and heated humidifier in line together; a wet HME blocks (common practice)."""
    if seen.word("humidifier") == "hme_with_heated_found":
        sentence = "HME and heated humidifier are in line together; a wet HME blocks the airway."
        yield seen.block("two_humidifiers", ("humidifier",), sentence)


def hme_unsuited(seen: Seen) -> Findings:
    """Noted: an HME with a mask, a low volume or thick secretions (AARC 2012)."""
    if seen.word("humidifier") not in ("hme", "hme_filter"):
        return
    if seen.family.code == "niv":
        sentence = "HME with mask ventilation: not recommended (AARC 2012)."
        yield seen.note("hme_with_mask", ("humidifier", "mode_family"), sentence)
    per_kg = _volume_per_kg(seen)
    if per_kg is not None and per_kg < LOW_VOLUME:
        sentence = "HME with a low tidal volume: its dead space counts (AARC 2012)."
        yield seen.note("hme_with_low_volume", ("humidifier", "tidal_volume_obs"), sentence)
    thick = seen.word("secretions_consistency") in ("thick", "plug")
    if thick or seen.word("secretions_colour") == "bloody":
        sentence = "HME with thick or bloody secretions."
        yield seen.note("hme_with_secretions", ("humidifier", "secretions_consistency"), sentence)


def _volume_per_kg(seen: Seen) -> Decimal | None:
    weight = seen.context.pbw_kg
    volume = seen.number("tidal_volume_obs") or seen.set_number("tidal_volume_set")
    return volume / weight if volume is not None and weight else None


def pressure_alarm_off(seen: Seen) -> Findings:
    """Asked: a high-pressure alarm at or under the peak; noted: more than 20 above it."""
    limit, peak = (
        seen.number("alarm_pressure_high"),
        seen.number("peak_inspiratory_pressure_obs"),
    )
    if limit is None or peak is None:
        return
    fields = ("alarm_pressure_high", "peak_inspiratory_pressure_obs")
    text = f"{told(fields[0], limit)} beside {told(fields[1], peak)}"
    if limit <= peak:
        yield seen.question("pressure_alarm_under_peak", fields, f"{text}. Is it right?")
    elif limit > peak + ALARM_ROOM:
        yield seen.note("pressure_alarm_wide", fields, f"{text}: more than 20 above.")


def minute_volume_alarm_off(seen: Seen) -> Findings:
    """Asked: a low minute volume alarm at or above the minute volume."""
    limit, minute = seen.number("alarm_minute_vent_low"), seen.number("minute_vent_obs")
    if limit is not None and minute is not None and limit >= minute:
        fields = ("alarm_minute_vent_low", "minute_vent_obs")
        sentence = f"{told(fields[0], limit)} beside {told(fields[1], minute)}. Is it right?"
        yield seen.question("minute_volume_alarm_above", fields, sentence)
