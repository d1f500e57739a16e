"""What a row says of tube, cuff, humidifier and rescue gear."""

from app.rules.watch.seen import Seen

RESCUE = (
    "safe_bag_mask",
    "safe_suction",
    "safe_oxygen",
    "safe_power_outlet",
    "safe_spare_airway",
    "safe_alarm_audible",
)

_FILTERS = frozenset({"hme", "hme_filter", "hme_with_heated_found"})
_THICK = frozenset({"thick", "plug"})
_BLOODY = frozenset({"bloody", "blood_tinged"})


def safety_series(seen: Seen, fresh_days: int) -> None:
    """One for a finding, zero where it was looked at and is not so; nothing where nobody looked."""
    cuff = seen.number("cuff_pressure_cmh2o")
    if cuff is not None and seen.words.get("cuff_state", "up") == "up":
        seen.put("cuff", cuff)
    for code in RESCUE:
        word = seen.word(code)
        if word:
            seen.values[code] = float(word == "no")
    if "safe_spare_airway" in seen.values:
        fresh = seen.tube == "trach" and seen.tube_days < fresh_days
        missing = seen.values["safe_spare_airway"] > 0
        seen.values["fresh_tracheostomy_spare"] = float(fresh and missing)
    _valve(seen)
    _filter(seen)


def _valve(seen: Seen) -> None:
    """A speaking valve lets no breath out past a cuff that is up."""
    if seen.word("speaking_valve") or seen.word("cuff_state"):
        on = seen.words.get("speaking_valve") == "yes"
        seen.values["valve_on_cuff"] = float(on and seen.words.get("cuff_state") == "up")


def _filter(seen: Seen) -> None:
    looked = any(map(seen.word, ("secretions_consistency", "secretions_colour", "humidifier")))
    if not looked:
        return
    sticky = seen.words.get("secretions_consistency") in _THICK
    bloody = seen.words.get("secretions_colour") in _BLOODY
    in_line = seen.words.get("humidifier") in _FILTERS
    seen.values["filter_clogs"] = float(in_line and (sticky or bloody))
