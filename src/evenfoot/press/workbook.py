"""All tables as one workbook that prints well and is the same bytes every time."""

from __future__ import annotations

from datetime import datetime
from io import BytesIO
from typing import Any

from evenfoot.ink import Column, Table, look

CREATED = datetime(2000, 1, 1)  # noqa: DTZ001 - the file format knows no zone; fixed, so that bytes repeat
FORBIDDEN = str.maketrans(dict.fromkeys("[]:*?/\\'", "-"))
LONGEST_NAME = 31
"""Longest name of a worksheet (ECMA-376 leaves it open; the common programs take 31)."""
WIDEST = 60
FORMATS = {"text": "@", "number": "#,##0.##", "length": "#,##0.0", "money": "#,##0.00", "count": "#,##0", "date": "@"}


def workbook_of(tables: tuple[Table, ...], *, title: str = "") -> bytes:
    """Return one worksheet per table, headings frozen and repeated in print; texts are never read as formulas."""
    import xlsxwriter

    sink = BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False}
    book = xlsxwriter.Workbook(sink, options)
    book.set_properties({"title": title, "created": CREATED})
    styles = _styles(book)
    taken: set[str] = set()
    for table in tables:
        sheet = book.add_worksheet(_sheet_name(table.title, taken))
        _fill(sheet, table, styles)
    book.close()
    return sink.getvalue()


def _styles(book: Any) -> dict[str, Any]:  # noqa: ANN401 - xlsxwriter has no types
    base = {"font_name": look.FAMILY, "valign": "top"}
    styles = {kind: book.add_format({**base, "num_format": shape}) for kind, shape in FORMATS.items()}
    styles["text"] = book.add_format({**base, "text_wrap": True})
    styles["head"] = book.add_format(
        {**base, "bold": True, "text_wrap": True, "bottom": 1, "bottom_color": look.PENCIL}
    )
    return styles


def _sheet_name(title: str, taken: set[str]) -> str:
    plain = title.translate(FORBIDDEN)
    name, turn = plain[:LONGEST_NAME], 1
    while name.casefold() in taken:
        turn += 1
        tail = f" {turn}"
        name = plain[: LONGEST_NAME - len(tail)] + tail
    taken.add(name.casefold())
    return name


def _fill(sheet: Any, table: Table, styles: dict[str, Any]) -> None:  # noqa: ANN401
    for index, column in enumerate(table.columns):
        sheet.set_column(index, index, _width(table, index, column), styles[_kind(column)])
        sheet.write_string(0, index, column.title, styles["head"])
    for row_number, row in enumerate(table.rows, start=1):
        assert len(row) == len(table.columns), f"{table.code}: a row has as many cells as there are columns"
        for index, (cell, column) in enumerate(zip(row, table.columns, strict=True)):
            if cell is None:
                continue
            if isinstance(cell, str):
                sheet.write_string(row_number, index, cell, styles["text"])
            else:
                sheet.write_number(row_number, index, cell, styles[_kind(column)])
    sheet.freeze_panes(1, 0)
    sheet.repeat_rows(0)
    sheet.set_landscape()
    sheet.set_paper(9)
    sheet.fit_to_pages(1, 0)


def _kind(column: Column) -> str:
    assert column.kind in FORMATS, f"{column.kind} is no kind of column"
    return column.kind


def _width(table: Table, index: int, column: Column) -> float:
    """Return a column width in characters; kanji count double."""
    cells = [column.title, *(str(row[index]) for row in table.rows if row[index] is not None)]
    longest = max(sum(1 if c.isascii() else 2 for c in cell) for cell in cells)
    return float(min(WIDEST, max(6, longest + 2)))
