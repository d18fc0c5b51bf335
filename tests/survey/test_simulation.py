"""A seeded sample of the simulation in benchmarks/survey.py: coverage, blunders, proposals."""

from benchmarks.survey import best_proposals, simulate

ROOMS = 80


def test_ellipses_cover_and_blunders_are_named() -> None:
    records = list(simulate(ROOMS, seed=11))
    hits = [hit for record in records for hit in record.covered]
    # 95 % of some 900 corners; those of one room lean on each other, so 93 to 97 % is for 1,000
    # rooms (benchmarks) and this smaller sample may spread twice as far
    assert 0.91 <= sum(hits) / len(hits) <= 0.99
    assert not any(record.wrong for record in records)
    allowed = [record for record in records if record.allowed]
    assert len(allowed) > ROOMS // 3
    assert sum(record.named for record in allowed) >= 0.9 * len(allowed)
    assert sum(bool(record.accused) for record in records) <= 0.03 * ROOMS


def test_the_proposal_is_the_best_of_all_pairs() -> None:
    assert best_proposals(25, seed=11) == 25
