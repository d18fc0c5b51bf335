"""Reads somebody else's drawing in a process of its own, whose time and memory are limited.

A damaged or hostile file may make the library that reads it run for ever, eat all memory or crash:
that must not take the job along. The process may not write a file either.
"""

import os
import pickle
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from plankwright.errors import FileError, InputError, LengthError, RoomError
from plankwright.files.source import kind_of
from plankwright.model.found_rooms import FoundRooms
from plankwright.units import Unit, parse_unit

READER = __spec__.name  # the module that is run
LONGEST_S = 60.0
LOOK_EVERY_S = 0.1  # whether it shall be stopped
MOST_BYTES = 3_000_000_000  # of address space
ERRORS: dict[str, type[InputError]] = {
    error.__name__: error for error in (InputError, FileError, RoomError, LengthError)
}


def read_apart(
    path: Path,
    *,
    unit: Unit | None = None,
    layer: str | None = None,
    stop: Callable[[], bool] | None = None,
) -> FoundRooms:
    """The rooms of a DXF, IFC or GeoJSON file, read in another process.

    Parameters
    ----------
    stop : asked now and then; once it says so the reader is ended.

    Raises
    ------
    FileError : as the reader says, or when it took too long, too much memory, or crashed.
    """
    # -P keeps the folder the person is in out of the search for modules, -B writes no byte code.
    command = [sys.executable, "-P", "-B", "-m", READER, str(path), unit or "", layer or ""]
    environment = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=environment
    ) as reader:
        try:
            said = _hear(reader, stop, str(path))
        finally:
            reader.kill()
    answer = _answer(said) if reader.returncode == 0 else None
    if isinstance(answer, FoundRooms):
        return answer
    if isinstance(answer, dict):
        name = answer.pop("error")
        raise ERRORS.get(name, FileError)(answer.pop("message"), **answer)
    raise FileError(
        "damaged: the reader stopped in the middle of it",
        where=str(path),
        remedy="Save the drawing again, if possible in another version.",
    )


def _hear(reader: "subprocess.Popen[bytes]", stop: Callable[[], bool] | None, where: str) -> bytes:
    """What the reader says until it ends by itself."""
    end = time.monotonic() + LONGEST_S
    while True:
        try:
            return reader.communicate(timeout=min(LOOK_EVERY_S, LONGEST_S))[0]
        except subprocess.TimeoutExpired:
            if stop is not None and stop():
                raise FileError("reading it was stopped", where=where) from None
            if time.monotonic() > end:
                raise FileError(
                    f"reading it took more than {LONGEST_S:.0f} s and was stopped",
                    where=where,
                    remedy="Save the storey in question alone.",
                ) from None


def read_here(path: Path, *, unit: Unit | None = None, layer: str | None = None) -> FoundRooms:
    """The same in this process, for files that can be trusted."""
    kind = kind_of(path)
    if kind == "json":
        from plankwright.files.geojson_rooms import find_geojson_rooms

        return find_geojson_rooms(path, unit)
    if kind == "ifc":
        from plankwright.files.ifc_rooms import read_ifc_rooms

        return read_ifc_rooms(path)
    from plankwright.files.dxf_rooms import read_dxf_rooms

    return read_dxf_rooms(path, unit=unit, layer=layer)


def _answer(data: bytes) -> Any:
    """What the reader said: rooms, or the fields of an error."""
    try:
        return pickle.loads(data)
    except Exception:  # cut off by a crash
        return None


def _limit() -> None:
    """Let this process neither grow, run on, nor write files."""
    try:
        import resource
    except ImportError:  # not on this system: the time limit alone must do
        return
    for what, most in (
        (resource.RLIMIT_AS, MOST_BYTES),
        (resource.RLIMIT_CPU, int(LONGEST_S)),
        (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CORE, 0),
    ):
        _, hard = resource.getrlimit(what)
        resource.setrlimit(what, (most if hard < 0 else min(most, hard), hard))


def _answer_for(path: Path, unit: str, layer: str) -> FoundRooms | dict[str, object]:
    try:
        named = parse_unit(unit) if unit else None
        return read_here(path, unit=named, layer=layer or None)
    except InputError as error:
        fields = {"message": error.message, "where": error.where, "remedy": error.remedy}
        value = None if error.value is None else str(error.value)[:200]
        return {"error": type(error).__name__, **fields, "value": value}
    except MemoryError:
        return {
            "error": "FileError",
            "message": "reading it takes too much memory",
            "where": str(path),
            "remedy": "Save the storey in question alone.",
        }


def main() -> None:
    """Read the file named on the command line; the answer goes to standard output."""
    out = os.dup(1)
    os.dup2(2, 1)  # what a library prints must not get into the answer
    _limit()
    answer = pickle.dumps(_answer_for(Path(sys.argv[1]), *sys.argv[2:4]))
    with os.fdopen(out, "wb") as pipe:
        pipe.write(answer)
    os._exit(0)  # a damaged model may crash while it is taken down


if __name__ == "__main__":
    main()
