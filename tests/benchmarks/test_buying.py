"""The table of buying on a sample: strips counted twice in real rooms, trim by brute force."""

from benchmarks.buying import house_lines, strip_lines
from tests.data import data_file


def test_strips_of_real_rooms_are_those_a_scan_finds() -> None:
    for name in ("rooms.geojson", "rooms_agpl.geojson"):
        data_file(name)
    told, *wrong = strip_lines(every=40)
    assert wrong == []
    assert told.endswith("0 disagree")


def test_trim_of_random_houses_costs_least() -> None:
    (told,) = house_lines(25)
    assert "met in 25, proven by itself in 25" in told
