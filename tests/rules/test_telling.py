"""A limit is judged from the newest attempts alone, and gets the answer that all would give."""

from hypothesis import given
from hypothesis import strategies as st

from app.charting.facts import Kind
from app.rules.attempts import attempts_of
from app.rules.bed_summary import work_out
from app.rules.policy import starting_policy
from app.rules.standing import _family, _judge, _Limits, _telling
from tests.charting.rows import course, later, row

POLICY = starting_policy()
PASSIVE = {"hold_passive": "yes", "peep_set": "8", "tidal_volume_obs": "400"}

one_row = st.fixed_dictionaries(
    {
        "kind": st.sampled_from((Kind.FULL, Kind.BRIEF)),
        "family": st.sampled_from(("ac_vc", "csv_ps")),
        "plateau": st.sampled_from((None, "20", "24", "26", "33", "no")),
        "cuff": st.sampled_from((None, "18", "25", "34")),
    }
)


def charted(hours: int, kind: Kind, family: str, plateau: str | None, cuff: str | None):
    values = dict(PASSIVE)
    if plateau not in (None, "no"):
        values["plateau_pressure_obs"] = str(plateau)
    if cuff is not None:
        values["cuff_pressure_cmh2o"] = cuff
    not_done = {"plateau_pressure_obs": "effort"} if plateau == "no" else {}
    return row(family, kind, later(hours=4 * hours), not_done, **values)


@given(st.lists(one_row, max_size=8))
def test_what_lies_behind_the_newest_run_says_nothing_more(rows) -> None:
    facts = course(*(charted(place, **one) for place, one in enumerate(rows)))
    worked = work_out(facts, POLICY)
    for limit in POLICY.limits.values():
        limits, family = _Limits(limit, lambda _: POLICY, facts), _family(worked)
        every = list(attempts_of(limits.now.key, worked, limits.of_a_child))
        telling = _telling(limits, iter(every))
        assert _judge(limits, telling, family) == _judge(limits, every, family)
        assert telling == every[: len(telling)]
