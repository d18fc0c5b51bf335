"""Random requests after the published OpenAPI page: whatever comes in, nothing may break."""

from collections import Counter
from typing import Any

import schemathesis
from hypothesis import HealthCheck, Phase, given, settings
from tests.web.server import OWN, caller

SHAPE = {"message", "where", "value", "remedy"}
QUIET = [HealthCheck.too_slow, HealthCheck.filter_too_much, HealthCheck.data_too_large,
         HealthCheck.large_base_example]  # fmt: skip
PATIENCE_S = 60


def fuzz(address: str, cases_each: int, *, seed: int | None = None) -> Counter[int]:
    """How often each status was answered; raises when one is not as it must be.

    Parameters
    ----------
    cases_each : requests for each way of asking.
    seed : None for the same requests every time.
    """
    job_id = _job_that_is_laid(address)
    schema = schemathesis.openapi.from_url(f"{address}/api/openapi.json")
    statuses: Counter[int] = Counter()
    for found in schema.get_all_operations():
        operation = found.ok()  # type: ignore[union-attr]
        if operation.path.endswith("/progress"):
            continue  # an endless answer; it has a test of its own

        @settings(
            max_examples=cases_each,
            derandomize=seed is None,
            deadline=None,
            database=None,
            phases=[Phase.generate],
            suppress_health_check=QUIET,
        )
        @given(case=operation.as_strategy())
        def ask(case: Any) -> None:
            if "job_id" in (case.path_parameters or {}) and sum(statuses.values()) % 4:
                case.path_parameters["job_id"] = job_id  # or hardly any would find one
            answer = case.call(headers={**(case.headers or {}), **OWN}, timeout=PATIENCE_S)
            statuses[answer.status_code] += 1
            told = f"{case.method} {case.formatted_path}: {answer.status_code} {answer.text[:300]}"
            assert answer.status_code < 500, told
            assert str(answer.status_code) in case.operation.definition.raw["responses"], told
            if answer.status_code >= 400 and answer.headers["content-type"] == "application/json":
                assert set(answer.json()["error"]) == SHAPE, told

        ask()
    return statuses


def _job_that_is_laid(address: str) -> str:
    """A small job whose laying has begun."""
    with caller(address) as asker:
        room = {"outline": [[0, 0], [2000, 0], [2000, 1500], [0, 1500]]}
        job_id = str(asker.post("/api/jobs", json={"document": {"room": room}}).json()["id"])
        asker.post(f"/api/jobs/{job_id}/laying")
    return job_id
