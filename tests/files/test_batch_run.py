"""A batch on one process, on two, on a Dask cluster: the same bytes; killed and gone on with."""

import csv
import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import Executor, Future
from contextlib import nullcontext
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest

from plankwright import api
from plankwright.errors import InputError
from plankwright.files.batch_cases import batch_files
from plankwright.files.batch_results import folder_name

ROOMS = {f"r{n}": (1200 + 150 * n, 1000 + 100 * n) for n in range(6)}


@pytest.fixture(scope="module")
def source(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Six small rooms in one file, one job, and three files that are no good."""
    folder = tmp_path_factory.mktemp("rooms")
    features = [
        {
            "type": "Feature",
            "id": name,
            "geometry": {
                "type": "Polygon",
                "coordinates": [[[0, 0], [wide, 0], [wide, deep], [0, deep]]],
            },
        }
        for name, (wide, deep) in ROOMS.items()
    ]
    crossed = [[0, 0], [900, 0], [0, 900], [900, 900]]
    features.append(
        {"type": "Feature", "id": "x", "geometry": {"type": "Polygon", "coordinates": [crossed]}}
    )
    collection = {"type": "FeatureCollection", "unit": "mm", "features": features}
    (folder / "six.geojson").write_text(json.dumps(collection))
    (folder / "sub").mkdir()
    (folder / "sub" / "den.toml").write_text(
        "[room]\noutline = [[0, 0], [1400, 0], [1400, 1100], [0, 1100]]\n"
    )
    (folder / "sub" / "bad.toml").write_text("[room\n")
    (folder / "cut.dxf").write_text("0\nSECTION\n2\nENT")
    return folder


def files_in(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


@pytest.fixture(scope="module")
def done_by_one(source: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("one")
    api.batch([source], folder, processes=1)
    return folder


def test_every_room_has_a_line_and_bad_ones_say_why(done_by_one: Path) -> None:
    with (done_by_one / "batch.csv").open(encoding="utf-8", newline="") as file:
        rows = {row["room"]: row for row in csv.DictReader(file)}
    assert {f"six.geojson: {name}" for name in ROOMS} < rows.keys()
    assert {row["state"] for row in rows.values()} == {"planned", "refused"}
    assert "crosses or touches" in rows["six.geojson: x"]["message"]
    assert "not valid TOML" in rows["sub/bad.toml"]["message"]
    assert "cut.dxf" in rows
    for row in rows.values():
        if row["state"] == "planned":
            place = done_by_one / row["folder"]
            assert api.check_file(place / "plan.json").ok
            assert api.load_plan(place / "plan.json").boards.used == int(row["boards"])
    told = json.loads((done_by_one / "batch.json").read_text(encoding="utf-8"))
    assert told["totals"]["planned"] == len(ROOMS) + 1
    assert [room["key"] for room in told["rooms"]] == list(rows)


def test_two_processes_give_the_same_bytes(source: Path, done_by_one: Path, tmp_path: Path) -> None:
    api.batch([source], tmp_path, processes=2)
    assert files_in(tmp_path) == files_in(done_by_one)


@pytest.fixture
def cluster() -> Iterator[str]:
    """A scheduler and two workers, each a process on this machine."""
    local_cluster: Any = import_module("distributed").LocalCluster
    with local_cluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None, silence_logs=50
    ) as made:
        yield made.scheduler_address


@pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::ResourceWarning")
def test_a_dask_cluster_of_two_workers_gives_the_same_bytes(
    cluster: str, source: Path, done_by_one: Path, tmp_path: Path
) -> None:
    api.batch([source], tmp_path, cluster=cluster)
    assert files_in(tmp_path) == files_in(done_by_one)


def test_killed_half_way_and_gone_on_with(source: Path, done_by_one: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-m", "plankwright", "batch", str(source), "--out", str(tmp_path)]
    running = subprocess.Popen(
        [*command, "--processes", "1"],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    rooms = tmp_path / "rooms"
    while running.poll() is None and len(list(rooms.glob("*/result.json"))) < 4:
        time.sleep(0.005)
    os.kill(running.pid, signal.SIGKILL)
    running.wait()
    before = {path: path.stat().st_mtime_ns for path in rooms.glob("*/result.json")}
    assert 4 <= len(before) < len(ROOMS) + 4
    assert not (tmp_path / "batch.csv").exists()
    told: list[tuple[str, int, int]] = []
    api.batch(
        [source], tmp_path, processes=1, tell=lambda row, n, of: told.append((row.key, n, of))
    )
    assert files_in(tmp_path) == files_in(done_by_one)
    assert {path: path.stat().st_mtime_ns for path in before} == before  # none was done twice
    assert [n for _, n, _ in told] == list(range(1, len(ROOMS) + 5))
    assert len({key for key, _, _ in told}) == len(told)


class Here(Executor):
    """Does everything at once in this process, which spares a test the start of another."""

    def submit(self, fn: Any, /, *args: Any, **_: Any) -> "Future[Any]":
        future: Future[Any] = Future()
        future.set_result(fn(*args))
        return future


@pytest.fixture
def here(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("plankwright.files.batch_run.workers", lambda *_: nullcontext((Here, 2)))


@pytest.mark.usefixtures("here")
def test_the_same_room_with_other_wishes_is_made_again(source: Path, tmp_path: Path) -> None:
    room = source / "sub" / "den.toml"
    api.batch([room], tmp_path)
    first = files_in(tmp_path)

    def narrower(job: api.Job) -> api.Job:
        return replace(job, board=api.Board(1000, 150))

    (row,) = api.batch([room], tmp_path, amend=narrower)
    assert api.load_plan(tmp_path / "rooms" / "den.toml" / "plan.json").board.width_mm == 150
    assert row.state == "planned"
    api.batch([room], tmp_path)
    assert files_in(tmp_path) == first


@pytest.mark.usefixtures("here")
def test_a_result_that_was_cut_off_is_made_again(source: Path, tmp_path: Path) -> None:
    room = source / "sub" / "den.toml"
    api.batch([room], tmp_path)
    whole = files_in(tmp_path)
    result = tmp_path / "rooms" / "den.toml" / "result.json"
    result.write_bytes(result.read_bytes()[:40])
    api.batch([room], tmp_path)
    assert files_in(tmp_path) == whole


def test_a_batch_does_not_read_what_it_wrote(source: Path) -> None:
    labels = [file.label for file in batch_files([source], without=source / "sub")]
    assert labels == ["cut.dxf", "six.geojson"]


def test_no_key_leaves_the_folder() -> None:
    keys = ["../../etc/x", "/x", "..", ".", "", "a" * 500, "a:b", "a/b", "a b", "ä", "\0", "con\n"]
    names = [folder_name(key) for key in keys]
    assert len(set(names)) == len(keys)
    assert all(name and "/" not in name and not name.startswith(".") for name in names)
    assert max(map(len, names)) < 80


@pytest.mark.parametrize(
    ("wish", "words"),
    [
        ({"processes": 0}, "from 1 to 256"),
        ({"processes": 9999}, "from 1 to 256"),
        ({"cluster": "nowhere"}, "no cluster answers there"),
    ],
)
def test_wishes_that_cannot_be(
    source: Path,
    tmp_path: Path,
    wish: dict[str, object],
    words: str,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("plankwright.files.batch_workers.PATIENCE_S", 0.2)
    with pytest.raises(InputError, match=words):
        api.batch([source / "sub" / "den.toml"], tmp_path, **wish)  # type: ignore[arg-type]


def test_the_extra_is_missing(
    source: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "distributed", None)
    with pytest.raises(InputError, match=r"pip install 'plankwright\[cluster\]'"):
        api.batch([source / "sub" / "den.toml"], tmp_path, cluster="tcp://127.0.0.1:1")


def test_an_empty_folder(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="no room in this folder"):
        batch_files([tmp_path])
