"""The Python API: short calls, the command line's words, and nothing loaded before it is needed."""

import subprocess
import sys
from pathlib import Path

import pytest
from shapely import Polygon, box

import plankwright
from plankwright import api
from plankwright.errors import InputError

DEMO = Path(plankwright.__file__).parent / "data" / "demo_room.toml"
ROOM = """
[room]
outline = [[0, 0], [4000, 0], [4000, 3000], [0, 3000]]
[board]
length = 1285
width = 192
"""

SLAB = """
[slab]
area = 12
below_grade = true
[air]
temperature = 20
humidity = 50
"""


@pytest.fixture
def room_file(tmp_path: Path) -> Path:
    path = tmp_path / "room.toml"
    path.write_text(ROOM)
    return path


def test_the_public_names_are_sorted_and_the_same_in_both_places() -> None:
    assert list(plankwright.__all__) == sorted(plankwright.__all__)
    assert plankwright.__all__ == api.__all__
    assert {*plankwright.__all__} < {*dir(plankwright)}
    assert all(getattr(plankwright, name) is getattr(api, name) for name in api.__all__)


def test_no_public_name_of_the_module_is_left_out() -> None:
    own = {
        name
        for name, part in vars(api).items()
        if getattr(part, "__module__", "") == api.__name__ and not name.startswith("_")
    }
    assert own <= {*api.__all__}


def test_every_public_name_says_what_it_is() -> None:
    for name in api.__all__:
        assert (getattr(api, name).__doc__ or "").strip(), name


def test_an_unknown_name_is_refused() -> None:
    with pytest.raises(AttributeError, match="plankwrong"):
        plankwright.plankwrong  # noqa: B018


def test_importing_the_package_loads_no_library() -> None:
    code = "import sys, plankwright; print({'shapely', 'numpy', 'pydantic'} & {*sys.modules})"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "set()"


def test_from_a_file_to_a_checked_plan_in_a_folder(room_file: Path, tmp_path: Path) -> None:
    job = plankwright.open_job(str(room_file))
    plan = plankwright.plan_job(job, stop=plankwright.stop_after(0))
    written = plankwright.save_plan(plan, tmp_path / "out", room=job.room)
    assert [path.name for path in written] == ["plan.json", "plan.svg", "cuts.csv"]
    assert plankwright.load_plan(written[0]).boards == plan.boards
    assert plankwright.check_file(written[0]).ok
    assert written[1].read_bytes().decode() == plankwright.draw(plan, room=job.room)
    assert written[2].read_bytes().decode() == plankwright.cut_list(plan)
    # 4000 x 3000 mm less a gap of 8 mm all round: 3.984 m x 2.984 m
    assert plankwright.plan_figures(plan).floor_m2 == pytest.approx(3.984 * 2.984)


def test_the_job_and_the_room_give_the_same_plan(room_file: Path) -> None:
    room = plankwright.Room(Polygon([(0, 0), (4000, 0), (4000, 3000), (0, 3000)]))
    effort = plankwright.Effort(moves=50)
    by_room = plankwright.plan_room(room, plankwright.Board(1285, 192), effort=effort)
    by_job = plankwright.plan_job(plankwright.open_job(room_file), effort=effort)
    assert by_room.pieces == by_job.pieces


def test_findings_of_the_job_stand_first_in_the_plan() -> None:
    job = plankwright.Job(
        plankwright.Room(box(0, 0, 4000, 3000)),
        findings=(plankwright.Finding("assumed-board", "board", "no board was named"),),
    )
    plan = plankwright.plan_job(job, effort=plankwright.Effort(moves=0))
    assert plan.findings[0] == job.findings[0]


def test_a_room_that_the_gaps_eat_is_refused() -> None:
    room = plankwright.Room(box(0, 0, 2000, 400))
    job = plankwright.Job(room, rules=plankwright.Rules(gap_mm=250.0))
    with pytest.raises(InputError, match="no floor at all") as caught:
        plankwright.plan_job(job)
    assert caught.value.where == "rules.gap"


@pytest.mark.parametrize("seconds", [-1.0, 86_401.0, float("nan")])
def test_a_time_that_cannot_be_is_refused(seconds: float) -> None:
    with pytest.raises(InputError, match="0 to 86400"):
        plankwright.stop_after(seconds)


def test_the_stop_comes_when_the_time_is_over(monkeypatch: pytest.MonkeyPatch) -> None:
    now = iter([100.0, 104.9, 105.0])
    monkeypatch.setattr("plankwright.api.time.monotonic", lambda: next(now))
    stop = plankwright.stop_after(5)
    assert [stop(), stop()] == [False, True]
    assert plankwright.stop_after(None)() is False


def test_the_survey_of_the_demo_room() -> None:
    measured = plankwright.measure(DEMO)
    assert [corner.name for corner in measured.corners] == ["A", "B", "C", "D"]
    assert measured.status == "measured"


def test_a_survey_that_is_missing_is_told_with_its_file(room_file: Path) -> None:
    with pytest.raises(InputError, match=r"room\.toml: room\.walls"):
        plankwright.measure(room_file)


def test_the_advice_on_a_slab_without_a_reading(tmp_path: Path) -> None:
    path = tmp_path / "slab.toml"
    path.write_text(SLAB)
    report = plankwright.slab(path)
    assert not report.ready
    assert "too-few-tests" in {finding.code for finding in report.findings}


def test_a_slab_that_is_missing_is_told_with_its_file(room_file: Path) -> None:
    with pytest.raises(InputError, match=r"room\.toml: slab: the table is missing"):
        plankwright.slab(room_file)
