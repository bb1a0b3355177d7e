"""Sizing a table part by part: what is finished stays, and is not done again."""

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final, NamedTuple

import msgspec
import pyarrow as pa

from upstroke_service import MODEL_VERSION
from upstroke_service.api.compute import Context
from upstroke_service.api.lineups import Catalogues
from upstroke_service.api.style import style
from upstroke_service.units import System
from upstroke_service.wording import LANGUAGES

from .columns import POINTERS, PROBLEM
from .files import INCOMPLETE, Part, UnusableTable, digest_of, notes_of, read, schema_of, writing
from .memory import keep_freed_memory
from .sizing import Detail, TableSizer

MOST_TOLD: Final = 20
"""Rows with problems that are told one by one."""


class Job(NamedTuple):
    """What all parts of a table are sized with: plain enough to be sent to another machine."""

    template: dict[str, Any]
    catalogues: Catalogues
    system: System
    detail: Detail

    def sizer(self) -> TableSizer:
        """What sizes the batches. Raises RequestProblem where the template is faulty."""
        return TableSizer(
            self.template, Context(self.catalogues, style(self.system, LANGUAGES[0])), self.detail
        )

    def key(self) -> bytes:
        """What results depend on besides the rows."""
        digests = {name: one.digest for name, one in sorted(self.catalogues.by_name.items())}
        settings = (MODEL_VERSION, self.template, digests, self.catalogues.default, self.system, self.detail)
        return msgspec.json.encode(settings)


class Outcome(msgspec.Struct, frozen=True, kw_only=True):
    """What became of the rows of a part; of those with problems the first ones, by their number in it.

    ``kept`` where they had been sized before.
    """

    rows: int
    verdicts: dict[str, int]
    refused: int
    told: list[tuple[int, str, list[str]]]
    kept: bool = False


class Tally:
    """Counts what becomes of rows."""

    def __init__(self) -> None:
        """Nothing yet."""
        self._rows = 0
        self._verdicts: Counter[str] = Counter()
        self._refused = 0
        self._told: list[tuple[int, str, list[str]]] = []

    def add(self, results: pa.RecordBatch) -> None:
        """Count the rows of a batch of results."""
        for one in results.column("verdict").value_counts().to_pylist():
            if one["values"] is None:
                self._refused += one["counts"]
            else:
                self._verdicts[one["values"]] += one["counts"]
        if len(self._told) < MOST_TOLD and results.column(PROBLEM).null_count < results.num_rows:
            refused = results.select([PROBLEM, POINTERS]).to_pylist()
            self._told += [
                (self._rows + place, row[PROBLEM], row[POINTERS])
                for place, row in enumerate(refused)
                if row[PROBLEM] is not None
            ]
            del self._told[MOST_TOLD:]
        self._rows += results.num_rows

    def outcome(self) -> Outcome:
        """What was counted."""
        return Outcome(rows=self._rows, verdicts=dict(self._verdicts), refused=self._refused, told=self._told)


def joined(outcomes: Iterator[Outcome]) -> Outcome:
    """The outcomes of parts in their order as one."""
    rows = refused = 0
    verdicts: Counter[str] = Counter()
    told: list[tuple[int, str, list[str]]] = []
    for one in outcomes:
        told += [(rows + row, code, pointers) for row, code, pointers in one.told]
        rows, refused = rows + one.rows, refused + one.refused
        verdicts.update(one.verdicts)
    return Outcome(rows=rows, verdicts=dict(verdicts), refused=refused, told=told[:MOST_TOLD])


def path_of(folder: Path, part: Part) -> Path:
    """Where the results of a part go."""
    return folder / f"part-{part.number:06d}.parquet"


def size_part(job: Job, part: Part, folder: Path) -> Outcome:
    """Size a part into its file of the ``folder``, unless that holds the results of just this part already.

    Raises RequestProblem, UnusableColumn, UnusableTable, OSError.
    """
    path, digest = path_of(folder, part), digest_of(part, job.key())
    notes = notes_of(path)
    if notes.get("digest") == digest:
        return msgspec.structs.replace(msgspec.convert(notes["outcome"], Outcome), kept=True)
    keep_freed_memory()
    sizer, tally = job.sizer(), Tally()
    notes = {"digest": digest}
    with writing(path, sizer.schema(schema_of(part.path)), notes) as writer:
        for batch in read(part):
            results = sizer.size(batch)
            tally.add(results)
            writer.write(results)
        notes["outcome"] = msgspec.to_builtins(tally.outcome())
    return tally.outcome()


def prepared(folder: Path) -> Path:
    """The ``folder`` for the results of parts, made where it is missing. Raises UnusableTable, OSError."""
    folder.mkdir(parents=True, exist_ok=True)
    for path in folder.glob("part-*.parquet"):
        if "digest" not in notes_of(path):
            raise UnusableTable(f"{path}: is in the way, and no result of this command")
    return folder.resolve()


def remove_others(folder: Path, parts: list[Part]) -> None:
    """Remove the results of parts that the table no longer has, and what was begun."""
    own = {path_of(folder, part) for part in parts}
    for path in folder.glob("part-*.parquet"):
        if path not in own:
            path.unlink()
    remove_begun(folder)


def remove_begun(folder: Path) -> None:
    """Remove what workers that died had begun."""
    for path in folder.glob(f".part-*{INCOMPLETE}"):
        path.unlink()
