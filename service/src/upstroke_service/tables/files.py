"""Tables in files: CSV, Parquet and Arrow, read part by part and written batch by batch."""

import csv
import hashlib
import io
import json
import uuid
from collections.abc import Generator, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Final, NamedTuple, Protocol, Self

import numpy as np
import pyarrow as pa
import pyarrow.compute as pc
import pyarrow.csv
import pyarrow.ipc
import pyarrow.parquet as pq

SUFFIXES: Final = (".csv", ".parquet", ".arrow")
ROWS_OF_BATCH: Final = 16_384
"""Rows that are sized together: enough that what is done once for all of them costs next to nothing."""

ROWS_OF_PART: Final = 65_536
_BLOCK: Final = 1 << 22
_LINE_ENDS: Final = np.frombuffer(b"\r\n", dtype=np.uint8)
INCOMPLETE: Final = ".incomplete"
_CSV_HINT: Final = (
    "\n  A CSV file is UTF-8 text, with commas between cells, as many cells in each row as in the first, "
    "and no line break in any."
)
_BETWEEN: Final = "; "
"""Stands between the entries of a list in a CSV file."""


class UnusableTable(Exception):
    """A file that can't be read or written as a table."""


class Part(NamedTuple):
    """Part of a table: of a file the bytes, row groups or batches from ``first`` up to ``last``, without it."""

    number: int
    path: Path
    first: int
    last: int


class Writer(Protocol):
    """What writes record batches of one schema."""

    def write(self, batch: pa.RecordBatch) -> None:
        """Write the next rows."""


def kind_of(path: Path) -> str:
    """How the name of a file ends, one of SUFFIXES where it is a table."""
    return path.suffix.lower()


def files_of(path: Path) -> list[Path]:
    """The file at ``path``, or the tables in the folder there, by name. Raises UnusableTable."""
    if not path.exists():
        raise UnusableTable(f"{path}: is not there")
    found = sorted(one for one in path.iterdir() if kind_of(one) in SUFFIXES) if path.is_dir() else [path]
    if not found or not all(one.is_file() and kind_of(one) in SUFFIXES for one in found):
        raise UnusableTable(f"{path}: no table; a table ends in {', '.join(SUFFIXES)}")
    return found


def parts_of(path: Path, rows: int = ROWS_OF_PART) -> list[Part]:
    """A table in parts of about so many ``rows``, in order. Raises UnusableTable, OSError."""
    parts: list[Part] = []
    first = None
    for file in files_of(path):
        schema = schema_of(file)
        if first is not None and not schema.equals(first, check_metadata=True):
            raise UnusableTable(f"{file}: has other columns or units than the first file of its folder")
        first = schema
        for start, end in _spans(file, rows):
            parts.append(Part(len(parts), file, start, end))
    return parts


def schema_of(path: Path) -> pa.Schema:
    """The columns of the table in a file, with their units. Raises UnusableTable, OSError."""
    with _readable(path):
        if kind_of(path) == ".csv":
            with path.open("rb") as file:
                return _csv_schema(file.readline())
        if kind_of(path) == ".parquet":
            return _columns(pq.read_schema(path))
        with pa.memory_map(str(path)) as source:
            return _columns(pa.ipc.open_file(source).schema)


def read(part: Part) -> Iterator[pa.RecordBatch]:
    """The rows of a part, in batches. Raises UnusableTable, OSError."""
    with _readable(part.path):
        for batch in _batches(part):
            for first in range(0, batch.num_rows, ROWS_OF_BATCH):
                yield batch.slice(first, ROWS_OF_BATCH)


def digest_of(part: Part, key: bytes) -> str:
    """Digest of what a part holds, together with a ``key``."""
    digest = hashlib.blake2b(key, digest_size=16)
    digest.update(schema_of(part.path).serialize())
    if kind_of(part.path) == ".arrow":
        # Its bytes don't tell where batches are, and dictionaries of values are shared by all of them.
        with _readable(part.path):
            for batch in _batches(part):
                with pa.ipc.new_stream(pa.PythonFile(_Digested(digest), mode="w"), batch.schema) as stream:
                    stream.write(batch)
        return digest.hexdigest()
    with part.path.open("rb") as file:
        for start, end in _bytes_of(part):
            file.seek(start)
            for at in range(start, end, _BLOCK):
                digest.update(file.read(min(_BLOCK, end - at)))
    return digest.hexdigest()


@contextmanager
def writing(path: Path, schema: pa.Schema, notes: dict[str, Any] | None = None) -> Generator[Writer]:
    """Write a table beside ``path`` and put it there when it is complete; ``notes`` go with a Parquet file.

    They are taken at the end, so that they may say what became of the rows. Raises UnusableTable, OSError.
    """
    # Of its own name: a worker that was given up may still be writing the same part.
    beside = path.with_name(f".{path.name}.{uuid.uuid4().hex}{INCOMPLETE}")
    try:
        with _writable(path):
            opened = _writer(str(beside), kind_of(path), schema)
        with opened as writer:
            yield _Told(writer, path)
            if notes is not None:
                writer.add_key_value_metadata({_NOTES: json.dumps(notes)})
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


_NOTES: Final = "upstroke"


def require_room(path: Path, schema: pa.Schema) -> None:
    """Refuse a file whose kind can't hold the columns of a ``schema``, before any is written. Raises UnusableTable."""
    with _writable(path), _writer(pa.BufferOutputStream(), kind_of(path), schema):
        pass


def notes_of(path: Path) -> dict[str, Any]:
    """The notes that went with a Parquet file; none where it is missing or unreadable."""
    try:
        found: dict[str, Any] = json.loads(
            (pq.read_metadata(path).metadata or {}).get(_NOTES.encode(), b"{}")
        )
    except (OSError, pa.ArrowException, ValueError):
        return {}
    return found


class _Digested(io.RawIOBase):
    """A file of which nothing is kept but a digest."""

    def __init__(self, digest: Any) -> None:
        self._digest = digest

    def writable(self) -> bool:
        return True

    def write(self, content: Any) -> int:
        self._digest.update(content)
        return len(content)


@contextmanager
def _readable(path: Path) -> Generator[None]:
    try:
        yield
    except (pa.ArrowException, UnicodeDecodeError, csv.Error) as error:
        hint = _CSV_HINT if kind_of(path) == ".csv" else ""
        raise UnusableTable(f"{path}: {error}{hint}") from None


def _columns(schema: pa.Schema) -> pa.Schema:
    # Without the notes of the file, not of its columns: those of pandas speak of columns that results don't have.
    return pa.schema(map(_with_unit, schema))


def _csv_schema(header: bytes) -> pa.Schema:
    names = next(csv.reader([header.decode("utf-8-sig")], strict=True), [])
    if len(names) == 1 and (";" in names[0] or "\t" in names[0]):
        raise csv.Error("semicolons or tabs between cells")
    return pa.schema([_with_unit(pa.field(name, pa.string())) for name in names])


def _with_unit(field: pa.Field) -> pa.Field:
    """A column of facts whose name states the unit in brackets, with the unit in its metadata instead.

    Raises UnusableTable where that states another one.
    """
    name, _, unit = (part.strip() for part in field.name.strip().removesuffix("]").partition("["))
    if not name.startswith("/"):
        return field
    if not unit:
        return field.with_name(name)
    other = (field.metadata or {}).get(b"unit", unit.encode()).decode()
    if other != unit:
        raise UnusableTable(f"{name}: is in {unit} by its name, in {other} by its metadata")
    return field.with_name(name).with_metadata({"unit": unit})


def _spans(path: Path, rows: int) -> Iterator[tuple[int, int]]:
    if kind_of(path) == ".csv":
        yield from _lines(path, rows)
        return
    with _readable(path):
        if kind_of(path) == ".parquet":
            metadata = pq.read_metadata(path)
            counts = [metadata.row_group(place).num_rows for place in range(metadata.num_row_groups)]
        else:
            with pa.memory_map(str(path)) as source:
                reader = pa.ipc.open_file(source)
                counts = [reader.get_batch(place).num_rows for place in range(reader.num_record_batches)]
    start = held = 0
    for place, count in enumerate(counts):
        held += count
        if held >= rows:
            yield start, place + 1
            start, held = place + 1, 0
    if start < len(counts):
        yield start, len(counts)


def _lines(path: Path, rows: int) -> Iterator[tuple[int, int]]:
    """Spans of bytes of so many lines each, without the header. No cell holds a line break."""
    with path.open("rb") as file:
        start = len(file.readline())
        at, held, size = start, 0, path.stat().st_size
        while block := file.read(_BLOCK):
            ends = np.flatnonzero(np.frombuffer(block, dtype=np.uint8) == ord("\n"))
            for place in range(rows - held - 1, len(ends), rows):
                end = at + int(ends[place]) + 1
                yield start, end
                start = end
            held = (held + len(ends)) % rows
            at += len(block)
    if start < size:
        yield start, size


def _bytes_of(part: Part) -> Iterator[tuple[int, int]]:
    """Where the rows of a part are in a CSV or Parquet file: from one byte up to another, without it."""
    if kind_of(part.path) == ".csv":
        yield part.first, part.last
        return
    metadata = pq.read_metadata(part.path)
    for place in range(part.first, part.last):
        group = metadata.row_group(place)
        for number in range(group.num_columns):
            column = group.column(number)
            start = column.dictionary_page_offset or column.data_page_offset
            yield start, start + column.total_compressed_size


def _batches(part: Part) -> Iterator[pa.RecordBatch]:
    if kind_of(part.path) == ".csv":
        yield from _csv_batches(part)
    elif kind_of(part.path) == ".parquet":
        with pq.ParquetFile(part.path) as file:
            schema = _columns(file.schema_arrow)
            groups = list(range(part.first, part.last))
            for batch in file.iter_batches(ROWS_OF_BATCH, row_groups=groups):
                yield pa.RecordBatch.from_arrays(batch.columns, schema=schema)
    else:
        with pa.memory_map(str(part.path)) as source:
            reader = pa.ipc.open_file(source)
            schema = _columns(reader.schema)
            for place in range(part.first, part.last):
                yield pa.RecordBatch.from_arrays(reader.get_batch(place).columns, schema=schema)


def _csv_batches(part: Part) -> Iterator[pa.RecordBatch]:
    with part.path.open("rb") as file:
        schema = _csv_schema(file.readline())
        file.seek(part.first)
        content = file.read(part.last - part.first)
    places = [str(place) for place in range(len(schema))]
    reader = pa.csv.open_csv(
        pa.BufferReader(content),
        read_options=pa.csv.ReadOptions(column_names=places, block_size=_BLOCK),
        # Every cell is text: what is a number is decided by what its column is about.
        convert_options=pa.csv.ConvertOptions(
            column_types=dict.fromkeys(places, pa.string()),
            strings_can_be_null=True,
            quoted_strings_can_be_null=True,
            null_values=[""],
        ),
    )
    for batch in reader:
        if any(map(_has_line_break, batch.columns)):
            raise csv.Error(
                "a cell holds a line break, or a quotation mark that opens a cell is never closed"
            )
        yield pa.RecordBatch.from_arrays(batch.columns, schema=schema)


def _has_line_break(cells: pa.StringArray) -> bool:
    text = cells.buffers()[2]
    return text is not None and bool(np.isin(np.frombuffer(text, dtype=np.uint8), _LINE_ENDS).any())


@contextmanager
def _writable(path: Path) -> Generator[None]:
    try:
        yield
    except pa.ArrowException as error:
        raise UnusableTable(f"{path}: can't hold a column that is carried over: {error}") from None


class _Told:
    """Tells of which file it is that can't hold some rows."""

    def __init__(self, writer: Writer, path: Path) -> None:
        self._writer = writer
        self._path = path

    def write(self, batch: pa.RecordBatch) -> None:
        with _writable(self._path):
            self._writer.write(batch)


class _CsvWriter:
    """Writes lists as text, and units into the headers."""

    def __init__(self, sink: Any, schema: pa.Schema) -> None:
        fields = []
        for field in schema:
            unit = (field.metadata or {}).get(b"unit", b"").decode()
            arrow = pa.string() if pa.types.is_list(field.type) else field.type
            fields.append(pa.field(f"{field.name} [{unit}]" if unit else field.name, arrow))
        self._schema = pa.schema(fields)
        self._writer = pa.csv.CSVWriter(sink, self._schema)

    def write(self, batch: pa.RecordBatch) -> None:
        columns = [_as_text(column) if pa.types.is_list(column.type) else column for column in batch.columns]
        self._writer.write(pa.RecordBatch.from_arrays(columns, schema=self._schema))

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._writer.close()


def _as_text(lists: pa.ListArray) -> pa.Array:
    """The entries of each list in one text."""
    texts = pa.ListArray.from_arrays(
        lists.offsets, pc.fill_null(lists.values.cast(pa.string()), ""), mask=pc.is_null(lists)
    )
    return pc.binary_join(texts, _BETWEEN)


def _writer(sink: Any, suffix: str, schema: pa.Schema) -> Any:
    if suffix == ".csv":
        return _CsvWriter(sink, schema)
    if suffix == ".parquet":
        return pq.ParquetWriter(sink, schema, compression="zstd")
    if suffix == ".arrow":
        return pa.ipc.new_file(sink, schema)
    raise UnusableTable(f"{sink}: a table ends in {', '.join(SUFFIXES)}")
