"""Sizes the sites of a spreadsheet: a table goes in, a workbook comes out, one row for each site.

The command is ``python -m upstroke.sheets``; it needs the extra ``sheets``. Inside, a table is read once
(``_reading``), its headers are matched to the fields of a request (``_columns``, ``_headers``), its cells are
read as facts (``_cells``, ``_rows``), each row is sized and its findings are journaled (``_sizing``,
``_findings``, ``_journal``), and the workbook is written from the journal (``_workbook``).
"""
