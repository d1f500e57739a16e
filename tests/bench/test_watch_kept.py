"""The figures on the help page hold for the rules in force, or this fails."""

from app.rules.measured import measured
from tests.bench.simulator.events import EVENTS
from tests.bench.watch_judge import BLOCKS, QUIET, REPORT, WITH_EVENT
from tests.bench.watch_kept import fingerprint


def test_the_kept_figures_are_those_of_the_rules_in_force():
    assert measured().fingerprint == fingerprint(), (
        "the rules, their numbers or the simulator changed: run `make bench-watch WRITE=1` "
        "and read what it says"
    )


def test_the_kept_figures_are_those_of_the_whole_bench_on_seeds_that_no_rule_saw():
    kept = measured()
    assert kept.seeds_from == REPORT
    assert [(block.ward, block.noise) for block in kept.blocks] == [
        (ward.name, noise) for ward, noise in BLOCKS
    ]
    assert {block.quiet_courses for block in kept.blocks} == {QUIET}
    told = [(found.words, found.courses) for block in kept.blocks for found in block.found]
    assert told == [(event.words, WITH_EVENT) for event in EVENTS] * len(BLOCKS)
