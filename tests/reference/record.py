"""What a reference row is: a figure that others printed, and ours beside it.

A folder here may have a module ``verified.py`` with a function ``rows()`` that yields ``Row``s. Tests ask that each row
is met, and ``tools/verification.py`` writes them into ``docs/verification.md``.
"""

from __future__ import annotations

import csv
import importlib.util
import sys
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import cache, partial
from pathlib import Path
from types import ModuleType

HERE = Path(__file__).parent


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """``expected`` is as printed; ``tolerance`` is empty for half its last digit, else it needs a ``note``.

    ``work`` works ours out when asked. ``is_asked`` is False for a figure that is only compared: its note says why.
    """

    table: str
    id: str
    quantity: str
    source: str
    expected: str
    work: Callable[[], float]
    unit: str = ""
    tolerance: str = ""
    note: str = ""
    is_asked: bool = True

    @property
    def ours(self) -> float:
        """Our figure."""
        return float(self.work())

    @property
    def allowed(self) -> float:
        """How far ours may lie from the printed figure."""
        return float(self.tolerance) if self.tolerance else half_last_digit(self.expected)

    @property
    def is_met(self) -> bool:
        """Whether ours lies as near as allowed."""
        return abs(self.ours - float(self.expected)) <= self.allowed

    @property
    def is_printed(self) -> bool:
        """Whether ours rounds to the printed figure itself."""
        return abs(self.ours - float(self.expected)) <= half_last_digit(self.expected)


def half_last_digit(printed: str) -> float:
    """Return half of one in the last printed digit; whole numbers count to one."""
    exponent = Decimal(printed).as_tuple().exponent
    assert isinstance(exponent, int)
    return 0.5 * 10.0 ** min(exponent, 0) * (1.0 + 1e-7)


def number_or_text(written: str) -> float | str:
    """Return a number where it is one."""
    try:
        return float(written)
    except ValueError:
        return written


@cache
def read(folder: Path, name: str) -> tuple[Mapping[str, str], ...]:
    """Return the rows of one CSV beside a ``verified.py``."""
    with (folder / name).open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def worked(
    folder: Path, name: str, quantities: Mapping[str, tuple[str, Callable[..., float]]], *, is_asked: bool = True
) -> Iterator[Row]:
    """Yield the rows of a CSV of worked examples: id, quantity, inputs, expected, tolerance, source, note.

    ``quantities`` gives for each quantity its unit and what works it out from the inputs (``b=45 wood=DFL``).
    """
    for row in read(folder, name):
        inputs = {k: number_or_text(v) for k, v in (pair.split("=") for pair in row["inputs"].split())}
        unit, work_out = quantities[row["quantity"]]
        yield Row(
            table=f"{folder.name}/{name}",
            id=row["id"],
            quantity=row["quantity"],
            source=row["source"],
            expected=row["expected"],
            work=partial(work_out, inputs),
            unit=unit,
            tolerance=row["tolerance"],
            note=row["note"],
            is_asked=is_asked,
        )


def load(folder: Path) -> ModuleType:
    """Return the module ``verified.py`` of one folder."""
    name = f"verified_{folder.name}"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, folder / "verified.py")
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules[name] = module
        spec.loader.exec_module(module)
    return sys.modules[name]


def folders() -> tuple[Path, ...]:
    """Return the folders that have rows, in order of their names."""
    return tuple(sorted(p.parent for p in HERE.glob("*/verified.py")))


def collect() -> tuple[Row, ...]:
    """Return every row of every folder."""
    return tuple(row for folder in folders() for row in load(folder).rows())
