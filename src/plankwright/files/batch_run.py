"""Runs a batch: only what no earlier run did, each result kept as it comes, then the table."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from plankwright.application.batch import Case, Orders, Row, fingerprint, plan_cases
from plankwright.files.batch_results import Results
from plankwright.files.batch_table import batch_csv, batch_json
from plankwright.files.batch_workers import workers
from plankwright.files.writing import write_whole

Tell = Callable[[Row, int, int], object]


def run_cases(
    cases: Sequence[Case],
    orders: Orders,
    settings: Mapping[str, object],
    folder: Path,
    processes: int | None = None,
    cluster: str | None = None,
    tell: Tell | None = None,
) -> list[Row]:
    """The lines of all cases in their order; files and table are in the folder then.

    Parameters
    ----------
    settings : what results depend on beside the jobs.
    tell : called with each line, how many are done and how many there are.
    """
    results = Results(folder)
    prints = {case.key: fingerprint(case, settings) for case in cases}
    rows: dict[str, Row] = {}

    def note(row: Row) -> None:
        rows[row.key] = row
        if tell is not None:
            tell(row, len(rows), len(cases))

    for case in cases:
        row = results.of(case.key, prints[case.key])
        if row is not None:
            note(row)
    missing = [case for case in cases if case.key not in rows]
    with workers(processes, cluster) as (make_executor, at_once):
        if missing:
            for outcome in plan_cases(missing, orders, make_executor, at_once):
                results.keep(outcome, prints[outcome.row.key])
                note(outcome.row)
    ordered = [rows[case.key] for case in cases]
    write_whole(folder / "batch.csv", batch_csv(ordered))
    write_whole(folder / "batch.json", batch_json(ordered))
    return ordered
