"""Plans while something is dragged: at once, and the same job is not read twice."""

import json
from collections import OrderedDict
from dataclasses import replace
from threading import Lock
from typing import Any

from plankwright.application.plan_job import plan_job
from plankwright.files.job import read_job
from plankwright.files.job_board import LayingTable, make_wishes
from plankwright.files.job_document import Document, document_text
from plankwright.files.table import read_table
from plankwright.model.job import Job
from plankwright.model.plan import Plan
from plankwright.optimize.solve import WHILE_DRAGGING

MOST_JOBS = 32


class LivePlans:
    """Plans of documents, good at once; jobs without their wishes are remembered."""

    def __init__(self) -> None:
        self._jobs: OrderedDict[str, Job] = OrderedDict()
        self._lock = Lock()

    def plan(self, document: Document) -> Plan:
        """A checked plan with the least effort.

        Raises
        ------
        InputError
            with field, value and remedy.
        """
        return plan_job(self.job(document), effort=WHILE_DRAGGING)

    def job(self, document: Document) -> Job:
        """The job of a document, its wishes read anew."""
        without = {key: value for key, value in document.items() if key != "laying"}
        job = self._remembered(without)
        table = read_table(LayingTable, document.get("laying", {}), unit=job.unit, where="laying")
        return replace(job, wishes=make_wishes(table)).with_lock_for_wish()

    def _remembered(self, document: Document) -> Job:
        key = json.dumps(document, sort_keys=True)
        with self._lock:
            job = self._jobs.get(key)
            if job is not None:
                self._jobs.move_to_end(key)
                return job
        job = read_job(document_text(document), "")
        with self._lock:
            self._jobs[key] = job
            while len(self._jobs) > MOST_JOBS:
                self._jobs.popitem(last=False)
        return job


def as_json(value: Any) -> bytes:
    """Compact JSON; quicker than to let every number be checked on its way out."""
    return json.dumps(value, separators=(",", ":"), ensure_ascii=False).encode()
