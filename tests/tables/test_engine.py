"""Spread over processes, a table gets the results of a single process, whatever becomes of a worker."""

import os
import signal
from pathlib import Path

import pyarrow as pa
import pyarrow.parquet as pq
from tests.service.consistency import CONTEXT
from tests.tables.rows import table

from upstroke_service.tables import engine
from upstroke_service.tables.files import parts_of
from upstroke_service.tables.parts import Job, Outcome, joined, path_of, remove_others, size_part

JOB = Job({"well": {"static_water_level": {"value": 80, "unit": "ft"}}}, CONTEXT.catalogues, "us", "compact")


def test_the_only_worker_may_be_killed(tmp_path: Path) -> None:
    pq.write_table(
        pa.Table.from_batches([table(9, 80, 0.8, ["/conduit/rise"])]),
        tmp_path / "in.parquet",
        row_group_size=20,
    )
    parts = parts_of(tmp_path / "in.parquet", 20)
    done: list[int] = []

    with engine.local(1) as client:
        (killed,) = client.run(os.getpid).values()
        for part, _ in engine.size_parts(client, JOB, parts, tmp_path):
            if not done:
                os.kill(killed, signal.SIGKILL)
            done.append(part.number)

    assert sorted(done) == [0, 1, 2, 3]


def test_a_worker_that_is_killed_loses_nothing(tmp_path: Path) -> None:
    batch = table(9, 240, 0.8, ["/well/static_water_level", "/conduit/rise", "/tank/total_volume"])
    pq.write_table(pa.Table.from_batches([batch]), tmp_path / "in.parquet", row_group_size=20)
    parts = parts_of(tmp_path / "in.parquet", 20)
    assert len(parts) == 12
    spread, single = tmp_path / "spread", tmp_path / "single"
    spread.mkdir()
    single.mkdir()
    outcomes: dict[int, Outcome] = {}

    with engine.local(2) as client:
        workers = client.run(os.getpid)
        killed = workers.popitem()[1]
        for part, outcome in engine.size_parts(client, JOB, parts, spread):
            if not outcomes:
                os.kill(killed, signal.SIGKILL)
            outcomes[part.number] = outcome
        assert killed not in client.run(os.getpid).values()

    alone = [size_part(JOB, part, single) for part in parts]
    assert joined(outcomes[number] for number in range(12)) == joined(iter(alone))
    for part in parts:
        found = pq.read_table(path_of(spread, part))
        assert found.equals(pq.read_table(path_of(single, part)), check_metadata=True)
    remove_others(spread, parts)
    assert sorted(spread.iterdir()) == [path_of(spread, part) for part in parts]
