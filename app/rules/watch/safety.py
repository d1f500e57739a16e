"""Safety, reported apart: tube, cuff, gear, and what must not wait for a second value."""

from app.charting.fields import FIELDS
from app.rules.watch.beyond import Beyond
from app.rules.watch.rule import Rule
from app.rules.watch.safe import RESCUE

_FOUND = Beyond(inclusive=True)

_NOT_READY = tuple(
    Rule(code, "safety", code, f"{FIELDS[code].label}: the answer was no.", _FOUND)
    for code in RESCUE
)

RULES = (
    Rule(
        "auto_peep_high",
        "safety",
        "auto_peep",
        "Auto-PEEP reached the limit in one hold.",
        _FOUND,
        places=1,
    ),
    Rule(
        "auto_peep_again",
        "safety",
        "auto_peep",
        "Auto-PEEP reached the lower limit in two of the last three holds.",
        _FOUND,
        places=1,
    ),
    Rule(
        "cuff_outside",
        "safety",
        "cuff",
        "Cuff pressure lay outside its limits.",
        Beyond(("under", "over")),
        limit="cuff_pressure_cmh2o",
    ),
    Rule(
        "depth_moved",
        "safety",
        "depth_moved",
        "The tube's mark moved far from where it belongs.",
        _FOUND,
        places=1,
    ),
    Rule(
        "depth_unexplained",
        "safety",
        "depth_unexplained",
        "The tube's mark moved and nobody said why.",
        _FOUND,
        places=1,
    ),
    Rule(
        "valve_on_cuff",
        "safety",
        "valve_on_cuff",
        "A speaking valve was charted with the cuff up.",
        _FOUND,
    ),
    *_NOT_READY,
    Rule(
        "fresh_tracheostomy_spare",
        "safety",
        "fresh_tracheostomy_spare",
        "No spare airway at the bed of a fresh tracheostomy.",
        _FOUND,
    ),
    Rule(
        "filter_clogs",
        "safety",
        "filter_clogs",
        "A heat-moisture exchanger is in line with thick or bloody secretions.",
        _FOUND,
    ),
    Rule("pao2_low", "safety", "pao2", "Arterial PaO2 was below the limit.", Beyond(("under",))),
    Rule(
        "rate_open_over",
        "safety",
        "rate_open",
        "The rate on mask or high flow was over its limit.",
        Beyond(),
    ),
    Rule(
        "rox_low",
        "safety",
        "rox_under",
        "ROX was under the cut-off of its hour twice in a row.",
        _FOUND,
        places=2,
    ),
    Rule("rate_low", "safety", "rate", "The total rate was below the limit.", Beyond(("under",))),
)
