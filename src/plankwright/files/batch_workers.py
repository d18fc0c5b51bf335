"""Who plans the rooms of a batch: processes on this machine, or the workers of a Dask cluster."""

import logging
import multiprocessing
import os
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from importlib import import_module
from typing import Any

from plankwright.errors import InputError

MOST_PROCESSES = 256
PATIENCE_S = 10.0  # for a cluster to answer


@contextmanager
def workers(
    processes: int | None = None, cluster: str | None = None
) -> Iterator[tuple[Callable[[], Executor], int]]:
    """Something that makes executors, and how many rooms to keep under way.

    Parameters
    ----------
    processes : on this machine; None for as many as it has processors.
    cluster : address of a Dask scheduler instead, such as ``tcp://10.0.0.5:8786``; needs the
        extra ``[cluster]``, here and on its workers.

    Raises
    ------
    InputError : no such number of processes, no such cluster, or the extra is not installed.
    """
    if cluster is not None:
        with _cluster(cluster) as made:
            yield made
        return
    count = _processors() if processes is None else processes
    if not 1 <= count <= MOST_PROCESSES:
        raise InputError(
            f"must be from 1 to {MOST_PROCESSES}",
            where="--processes",
            value=processes,
            remedy="As many as this machine has processors is usual.",
        )
    # Spawned, not forked: the parent has threads. Scripts need the usual __main__ guard.
    context = multiprocessing.get_context("spawn")
    yield (
        lambda: ProcessPoolExecutor(count, mp_context=context, initializer=_end_with_parent),
        2 * count,
    )


def _processors() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _end_with_parent() -> None:
    """Let a worker end when the process that made it is killed."""

    def watch() -> None:
        parent = multiprocessing.parent_process()
        if parent is not None:
            parent.join()
            os._exit(1)

    threading.Thread(target=watch, daemon=True).start()


@contextmanager
def _cluster(address: str) -> Iterator[tuple[Callable[[], Executor], int]]:
    try:
        make_client: Any = import_module("distributed").Client
    except ImportError:
        raise InputError(
            "a cluster needs a part that is not installed",
            where="--cluster",
            value=address,
            remedy="Install it: pip install 'plankwright[cluster]'.",
        ) from None
    logging.getLogger("distributed").setLevel(logging.CRITICAL)
    try:
        client = make_client(address, timeout=PATIENCE_S, set_as_default=False)
    except (OSError, ValueError, TimeoutError) as error:
        raise InputError(
            f"no cluster answers there ({type(error).__name__})",
            where="--cluster",
            value=address,
            remedy="Start a scheduler and its workers first; the address is like "
            "tcp://10.0.0.5:8786.",
        ) from None
    with client:
        count = sum(client.nthreads().values())
        yield (lambda: client.get_executor(pure=False, retries=1)), max(2 * count, 2)
