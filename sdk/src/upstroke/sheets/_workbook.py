"""Writes the workbook of results from the rows and the journal."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Final

from upstroke._quantity import Quantity

from ._charts import RESULTS, Overview, write_overview
from ._findings import CANDIDATE, RECOMMENDED, SUMMARY, Findings, Note, Value
from ._journal import Journal
from ._rows import Fault, Row, Table
from ._writing import Book, Listing

SIZED: Final = "sized"
UNREADABLE: Final = "not sized: unreadable cells"
REFUSED: Final = "not sized: refused"
UNANSWERED: Final = "not sized: no answer"

_KEYS: Final = ("Row", "Site")
_STATUS: Final = "Status"
_NOTE: Final = ("What", "Code or field", "Signal word", "Text", "Why", "Who may do the work")
_FAULT: Final = ("Row", "Site", "Sheet", "Cell", "Header or field", "What stands there", "What is wrong")
# Beside the inputs; the reasons stand in the summary and on the sheet of candidates.
_BESIDE: Final = tuple(title for title in CANDIDATE if title != "Reasons")


def write_workbook(
    file: Path,
    source: tuple[str, str],
    table: Table,
    rows: Iterable[Row],
    journal: Journal,
    unanswered: Mapping[str, str],
) -> Counter[str]:
    """Write the workbook.

    Args:
        file: where to.
        source: names of the table's file and of its sheet.
        table: its columns.
        rows: in its order; each gets a row of the results, whatever it holds.
        journal: what was found.
        unanswered: why a row got no answer, by its key.

    Returns:
        How many rows came to which status.
    """
    with Book(file, f"Hand pumps for the sites of {source[0]}") as book:
        first = book.sheet("Overview")
        writer = _Writer(book, source[1], table, _units(journal))
        for row in rows:
            writer.add(row, journal.get(row.key) if row.key in journal else None, unanswered.get(row.key, ""))
        writer.close()
        overview = Overview(source[0], writer.lines(), writer.statuses, writer.verdicts)
        write_overview(book, first, overview, writer.results.titles, writer.results.count)
    return writer.statuses


class _Writer:
    """The sheets behind the first one."""

    def __init__(self, book: Book, sheet: str, table: Table, units: Sequence[str]) -> None:
        titles = dict(zip(CANDIDATE, _titled(CANDIDATE, units), strict=True))
        inputs = [header.strip() or "(no header)" for header in table.headers]
        beside = [titles[title] for title in _BESIDE]
        self.results = Listing(
            book,
            RESULTS,
            [*_KEYS, *inputs, _STATUS, *list(SUMMARY)[:2], RECOMMENDED, *beside, *list(SUMMARY)[2:]],
            given=range(len(_KEYS), len(_KEYS) + len(inputs)),
        )
        self.statuses: Counter[str] = Counter()
        self.verdicts: Counter[str] = Counter()
        self._candidates = Listing(book, "Candidates", [*_KEYS, "Rank", RECOMMENDED, *titles.values()])
        self._notes = Listing(book, "Assumptions and cautions", [*_KEYS, *_NOTE], wrapped=True)
        self._faults = Listing(book, "Unreadable cells", _FAULT, wrapped=True)
        self._table, self._sheet = table, sheet
        self._said: dict[str, None] = {}

    def add(self, row: Row, findings: Findings | None, unanswered: str) -> None:
        """Add what is known of a row to every sheet."""
        faults = list(row.faults)
        if findings and findings.refused:
            faults += self._table.refusals(row, findings.refused)
        elif findings is None and row.request is not None:
            faults.append(Fault("", "", "", unanswered or "no answer"))
        status = _status(row, findings)
        self.statuses[status] += 1
        self._add_result(row, status, findings, faults)
        for fault in faults:
            self._faults.write(
                [
                    float(row.number),
                    row.site,
                    self._sheet,
                    fault.cell,
                    fault.header,
                    fault.content,
                    fault.message,
                ]
            )
        if findings and findings.summary:
            self.verdicts[str(findings.summary[0])] += 1
            self._said |= dict.fromkeys((findings.scope, f"Catalogue {findings.catalogue}"))
            self._add_details(row, findings)

    def close(self) -> None:
        """Complete the sheets."""
        for listing in (self.results, self._candidates, self._notes, self._faults):
            listing.close()

    def lines(self) -> list[str]:
        """What a reader must know."""
        lines = list(self._said)
        if self._faults.count:
            lines.append(
                "Cells that could not be read or were refused are marked red and listed on the last sheet; a row "
                "with one in a fact is not sized, for the fact would be replaced by an assumption."
            )
        return lines

    def _add_result(self, row: Row, status: str, findings: Findings | None, faults: Sequence[Fault]) -> None:
        width = len(self._table.headers)
        inputs: list[Value] = [*row.cells[:width], *[None] * (width - len(row.cells))]
        summary: list[Value] = (
            list(findings.summary) if findings and findings.summary else [None] * len(SUMMARY)
        )
        chosen = _chosen(findings)
        start = len(_KEYS)
        marked = {
            start + fault.column for fault in faults if fault.column is not None and fault.column < width
        }
        if faults:
            marked.add(start + width)
        self.results.write(
            [float(row.number), row.site, *inputs, status, *summary[:2], *chosen, *summary[2:]], marked
        )

    def _add_details(self, row: Row, findings: Findings) -> None:
        for rank, candidate in enumerate(findings.candidates, start=1):
            self._candidates.write([float(row.number), row.site, float(rank), *candidate])
        for note in findings.notes:
            self._notes.write([float(row.number), row.site, *_cells(note)])


def _status(row: Row, findings: Findings | None) -> str:
    if row.request is None:
        return UNREADABLE
    if findings is None:
        return UNANSWERED
    return REFUSED if findings.refused else SIZED


def _chosen(findings: Findings | None) -> list[Value]:
    """What stands beside the inputs: the recommended cylinder, or the best one where none is."""
    if not findings or not findings.candidates:
        return [None] * (1 + len(_BESIDE))
    best = next((one for one in findings.candidates if one[0] is True), findings.candidates[0])
    values = dict(zip(CANDIDATE, best[1:], strict=True))
    return [best[0], *(values[title] for title in _BESIDE)]


def _cells(note: Note) -> list[Value]:
    return [note.kind, note.code, note.signal, note.text, note.why, note.who]


def _units(journal: Journal) -> list[str]:
    """The unit of each column about a cylinder; empty where it has none. All answers have the same."""
    found = (findings.candidates[0] for findings in map(journal.get, journal) if findings.candidates)
    values = next(found, [None] * (1 + len(CANDIDATE)))
    return [value.unit if isinstance(value, Quantity) else "" for value in values[1:]]


def _titled(titles: Iterable[str], units: Iterable[str]) -> Iterator[str]:
    for title, unit in zip(titles, units, strict=True):
        yield f"{title} [{unit}]" if unit else title
