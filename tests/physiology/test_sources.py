"""Citations: each once, each honest about what was seen."""

from app.physiology.catalogue import CATALOGUE
from app.physiology.sources import SOURCES


def test_a_source_can_be_looked_up_or_says_that_it_is_none():
    for source in SOURCES.values():
        assert len(source.citation) > 20
        assert str(source).endswith(f"({source.seen})")


def test_no_two_sources_are_one():
    citations = [source.citation for source in SOURCES.values()]
    assert len(citations) == len(set(citations))


def test_what_is_only_remembered_says_so_beside_the_index():
    assert CATALOGUE["airway_resistance"].source.seen == "from memory"
