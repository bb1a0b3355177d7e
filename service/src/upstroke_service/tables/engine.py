"""Parts of a table spread over processes and machines by Dask's distributed scheduler.

It keeps track of who does which part: the part of a worker that dies is done again by another. Workers need
this package and the same files at the same paths.
"""

import logging
from collections.abc import Generator, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from distributed import Client, KilledWorker, LocalCluster, as_completed

from .files import Part, UnusableTable
from .parts import Job, Outcome, size_part


@contextmanager
def local(workers: int) -> Generator[Client]:
    """A cluster of so many processes on this machine, as long as this lasts; it listens to nobody else."""
    with (
        LocalCluster(
            n_workers=workers,
            threads_per_worker=1,
            processes=True,
            host="127.0.0.1",
            dashboard_address=None,
            # What becomes of a part is told where it is asked for.
            silence_logs=logging.CRITICAL,
            preload=["upstroke_service.tables.worker"],
        ) as cluster,
        Client(cluster) as client,
    ):
        yield client


@contextmanager
def remote(scheduler: str) -> Generator[Client]:
    """The cluster of the scheduler at an address such as tcp://host:8786.

    Raises UnusableTable where it is no address, OSError where none answers.
    """
    try:
        client = Client(scheduler)
    except ValueError as error:
        raise UnusableTable(f"the scheduler's address: {error}") from None
    with client:
        yield client


def size_parts(
    client: Client, job: Job, parts: Sequence[Part], folder: Path
) -> Iterator[tuple[Part, Outcome]]:
    """Size the parts of a table into files of the ``folder``; each is told when it is finished.

    Raises what ``size_part`` raises, once any part does, and UnusableTable where a part has cost several
    workers their lives.
    """
    # The job goes along with each part: kept by workers alone, it would be lost with the last of them.
    asked = {
        client.submit(size_part, job, part, folder, key=f"part-{part.number}-{folder}", pure=False): part
        for part in parts
    }
    try:
        for future in as_completed(asked):
            yield asked[future], future.result()
    except KilledWorker as error:
        raise UnusableTable(str(error)) from None
    finally:
        client.cancel(list(asked))
