"""Let each constant of the rules and of the strength tables slip by 2 % and see whether a test notices.

    python tools/slip.py                     all of rules/ and the strength tables; minutes
    python tools/slip.py ec5_2004 ground     only the modules and tables whose name holds one of these

For each module the tests that import it are gathered once; then, for each constant and for each direction, a forked
child puts the slipped module in place and runs those tests until the first one fails. A constant that no test misses is
written down as a survivor. Zeros cannot slip. Runs where processes can fork (not on Windows).
"""

from __future__ import annotations

import ast
import functools
import gc
import importlib
import io
import json
import os
import re
import sys
import time
import tomllib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import FunctionType, ModuleType

import pytest

ROOT = Path(__file__).resolve().parents[1]
SOURCE = ROOT / "src" / "evenfoot"
RULES, DATA = SOURCE / "rules", SOURCE / "tables" / "data"
TESTS = ROOT / "tests"
TABLES = ("eu_*.csv", "eu_*.toml", "jp_*.csv", "jp_*.toml", "us_*.csv", "us_*.toml")
SLIPS = (1.02, 0.98)
LONGEST = 0.03
"""Tests that take longer are not asked [s of processor]."""
CACHED = type(functools.cache(len))
OURS = ("evenfoot", "record", "verified", "us_", "test_")
BESIDE = {
    "ec5_2004": ("unit/strength/test_europe.py", "reference/strength_eu"),
    "japan_2000": ("unit/rules/test_japan_2000.py", "reference/strength_jp"),
    "nds_2018": ("unit/rules/test_nds_2018.py", "reference/strength_us"),
    "eu_": ("unit/strength/test_europe.py", "reference/strength_eu"),
    "jp_": ("unit/rules/test_strength_tables_jp.py", "reference/strength_jp"),
    "us_": ("unit/rules/test_nds_2018.py", "reference/strength_us"),
}
"""Tests that ask a standard through its practice or its tables, besides those that import the module itself."""
LABELS = {
    "confirmed",
    "source",
    "note",
    "clause",
    "grade",
    "use",
    "species",
    "size",
    "plies",
    "joist_span_ft",
    "spacing_in",
    "nominal",
}
"""Columns that name a row rather than hold a figure."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """One constant that slips: where it stands, what it becomes, and what puts it in place."""

    where: str
    put: Callable[[], None]


def slips_of_module(path: Path) -> Iterator[Slip]:
    """Yield both slips of every constant of a module."""
    name = ".".join(path.relative_to(SOURCE.parent).with_suffix("").parts)
    text = path.read_text(encoding="utf-8")
    count = sum(1 for _ in _constants(ast.parse(text)))
    lines = text.splitlines()
    for number in range(count):
        for slip in SLIPS:
            tree = ast.parse(text)
            node = next(n for k, n in enumerate(_constants(tree)) if k == number)
            old = node.value
            assert isinstance(old, int | float)
            node.value = old * slip
            place = f"{path.relative_to(RULES)}:{node.lineno}:{node.col_offset}"
            where = f"{place}: {old} -> {old * slip:g}: {lines[node.lineno - 1].strip()}"
            yield Slip(where=where, put=functools.partial(_put_module, name, tree, path))


def _constants(tree: ast.AST) -> Iterator[ast.Constant]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and type(node.value) in {int, float} and node.value != 0:
            yield node


def _put_module(name: str, tree: ast.Module, path: Path) -> None:
    """Run the slipped module in place of the true one; whoever holds one of its functions or constants gets the new."""
    module = importlib.import_module(name)
    before = dict(vars(module))
    exec(compile(ast.fix_missing_locations(tree), str(path), "exec"), vars(module))
    for key, old in before.items():
        new = vars(module)[key]
        if isinstance(old, FunctionType) and isinstance(new, FunctionType) and old.__module__ == name:
            old.__code__, old.__kwdefaults__ = new.__code__, new.__kwdefaults__
        elif isinstance(old, type) and isinstance(new, type) and old.__module__ == name:
            for method, was in vars(old).items():
                now = vars(new).get(method)
                if isinstance(was, FunctionType) and isinstance(now, FunctionType):
                    was.__code__, was.__kwdefaults__ = now.__code__, now.__kwdefaults__
        elif type(old) in {int, float} and new != old:
            _rebind(key, old, new)


def _rebind(key: str, old: float, new: float) -> None:
    for module in list(sys.modules.values()):
        if isinstance(module, ModuleType) and vars(module).get(key) is old:
            setattr(module, key, new)


def slips_of_table(path: Path) -> Iterator[Slip]:
    """Yield both slips of every figure of a table."""
    text = path.read_text(encoding="utf-8")
    spans = _toml_figures(text) if path.suffix == ".toml" else _csv_figures(text)
    for start, end, label in spans:
        old = float(text[start:end])
        for slip in SLIPS:
            new = f"{text[:start]}{old * slip:.10g}{text[end:]}"
            yield Slip(
                where=f"{path.name}: {label}: {old:g} -> {old * slip:g}", put=functools.partial(_put_table, path, new)
            )


def _toml_figures(text: str) -> Iterator[tuple[int, int, str]]:
    tomllib.loads(text)
    group = ""
    for line in re.finditer(r"^\[(?P<group>[^]]+)\]|^value = (?P<value>[-0-9.e]+)$", text, re.MULTILINE):
        if line["group"]:
            group = line["group"]
        elif float(line["value"]) != 0.0:
            yield *line.span("value"), group


def _csv_figures(text: str) -> Iterator[tuple[int, int, str]]:
    """Yield the places of cells that are plain numbers; quoted cells hold words."""
    head = text[: text.index("\n")].split(",")
    at = len(text[: text.index("\n")]) + 1
    for line in text[at:].splitlines(keepends=True):
        cells = list(re.finditer(r'(?:^|,)("(?:[^"]|"")*"|[^,\r\n]*)', line.rstrip("\r\n")))
        for column, cell in zip(head, cells, strict=False):
            if column not in LABELS and re.fullmatch(r"-?[0-9.]+", cell[1]) and float(cell[1]) != 0.0:
                yield at + cell.start(1), at + cell.end(1), f"{line.split(',')[0]} {column}"
        at += len(line)


def _put_table(path: Path, text: str) -> None:
    """Let everyone who reads the file read the slipped one."""
    read, opened = Path.read_text, Path.open

    def read_text(self: Path, *args: object, **kwargs: object) -> str:
        return text if self.name == path.name else read(self, *args, **kwargs)  # type: ignore[arg-type]

    def open_(self: Path, *args: object, **kwargs: object) -> object:
        return io.StringIO(text) if self.name == path.name else opened(self, *args, **kwargs)  # type: ignore[call-overload]

    Path.read_text = read_text  # type: ignore[method-assign,assignment]
    Path.open = open_  # type: ignore[method-assign,assignment]


def tests_beside(path: Path) -> list[Path]:
    """Return the tests that import a module of the rules, and those of its standard."""
    stem = path.relative_to(RULES).with_suffix("").parts if path.is_relative_to(RULES) else ()
    found: set[Path] = set()
    if stem:
        package = ".".join(("evenfoot", "rules", *stem[:-1]))
        for test in sorted([*TESTS.glob("unit/**/*.py"), *TESTS.glob("reference/**/*.py")]):
            if _imports(test, package, stem[-1]):
                found |= {test} if test.name.startswith("test_") else set(test.parent.glob("test_*.py"))
    for key, names in BESIDE.items():
        if str(path.relative_to(RULES if stem else DATA)).startswith(key):
            for name in names:
                one = TESTS / name
                found |= {one} if one.suffix else set(one.glob("test_*.py"))
    return sorted(found)


@functools.cache
def _imported(test: Path) -> frozenset[tuple[str, str]]:
    tree = ast.parse(test.read_text(encoding="utf-8"))
    froms = (node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) and node.module)
    return frozenset((str(node.module), alias.name) for node in froms for alias in node.names)


def _imports(test: Path, package: str, module: str) -> bool:
    """Return whether a test imports a module, or something out of it."""
    return any(f"{package}.{module}" in {f"{place}.{name}", place} for place, name in _imported(test))


class Slipping:
    """Takes the place of the loop that runs the tests: each slip in a child of its own."""

    def __init__(self, slips: Sequence[Slip]) -> None:
        self.slips = slips
        self.survivors: list[str] = []
        self.is_sound = False

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """Run the true module once, then each slip; tests that noticed one come first, long ones are left out."""
        caches = [c for c in gc.get_objects() if isinstance(c, CACHED)]
        mine = [c for c in caches if str(getattr(c, "__module__", "")).startswith(OURS)]
        tests = [item for item in session.items if isinstance(item, pytest.Function) and _stands_alone(item)]
        took = _in_child(tests, None, mine)
        self.is_sound = isinstance(took, list)
        if isinstance(took, list):
            tests = [item for item, seconds in zip(tests, took, strict=True) if seconds < LONGEST]
            for slip in self.slips:
                noticed = _in_child(tests, slip, mine)
                if isinstance(noticed, int):
                    tests.insert(0, tests.pop(noticed))
                else:
                    self.survivors.append(slip.where)
        return True


def _stands_alone(item: pytest.Function) -> bool:
    """Return whether a test asks for nothing but its own parameters."""
    given = item.callspec.params if hasattr(item, "callspec") else {}
    return set(item.fixturenames) <= set(given)


def _run(item: pytest.Function) -> None:
    """Run a test as it stands: without the frame of pytest around it thousands of slips take minutes."""
    given = item.callspec.params if hasattr(item, "callspec") else {}
    item.obj(**given)


def _in_child(
    tests: Sequence[pytest.Function], slip: Slip | None, caches: Sequence[functools._lru_cache_wrapper[object]]
) -> int | list[float]:
    """Return the number of the first test that fails with a slip in place, else how long each took [s of processor].

    In a child, so that nothing of the slip stays.
    """
    reading, writing = os.pipe()
    child = os.fork()
    if child:
        os.close(writing)
        with os.fdopen(reading, "rb") as pipe:
            said = pipe.read()
        os.waitpid(child, 0)
        # A child that dies without a word met the slip while it was put in place.
        return json.loads(said) if said else 0
    try:
        _silence()
        os.write(writing, json.dumps(_first_failure(tests, slip, caches)).encode())
    finally:
        os._exit(0)


def _first_failure(
    tests: Sequence[pytest.Function], slip: Slip | None, caches: Sequence[functools._lru_cache_wrapper[object]]
) -> int | list[float]:
    for cache in caches:
        cache.cache_clear()
    if slip is not None:
        slip.put()
    took = []
    for number, test in enumerate(tests):
        began = time.process_time()
        try:
            _run(test)
        except BaseException:  # noqa: BLE001 - a test fails by whatever it raises
            return number
        took.append(time.process_time() - began)
    return took


def _silence() -> None:
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, 1)
    os.dup2(nowhere, 2)


def examine(paths: Sequence[Path]) -> dict[str, tuple[int, list[str]]]:
    """Return for each module or table how many slips it has, and those that no test notices."""
    tests = sorted({test for path in paths for test in tests_beside(path)})
    slips = {p: list(slips_of_module(p) if p.is_relative_to(RULES) else slips_of_table(p)) for p in paths}
    plugin = Slipping([slip for of_path in slips.values() for slip in of_path])
    flags = ["-q", "-p", "no:cacheprovider", "-m", "not slow", "--import-mode=importlib", "--rootdir", str(ROOT)]
    pytest.main([*flags, *map(str, tests)], plugins=[plugin])
    assert plugin.is_sound, f"the tests beside {paths[0].name} fail without any slip"
    left = set(plugin.survivors)
    return {
        str(path.relative_to(SOURCE)): (len(of_path), [s.where for s in of_path if s.where in left])
        for path, of_path in slips.items()
    }


def main(wanted: Sequence[str]) -> int:
    """Examine all that is wanted, what has the same tests together; return 1 when something survives."""
    modules = [p for p in sorted(RULES.rglob("*.py")) if p.name not in {"__init__.py", "ranges.py"}]
    tables = [p for pattern in TABLES for p in sorted(DATA.glob(pattern))]
    groups: dict[str, list[Path]] = {}
    for path in [*modules, *tables]:
        if not wanted or any(word in str(path.relative_to(SOURCE)) for word in wanted):
            key = path.parent.name if path in modules else path.name[:3]
            groups.setdefault(key, []).append(path)
    total, left = 0, 0
    for paths in groups.values():
        for name, (count, survivors) in _apart(paths).items():
            total, left = total + count, left + len(survivors)
            print(f"{name}: {count} slips, {len(survivors)} unnoticed", flush=True)
            for where in survivors:
                print(f"    {where}", flush=True)
    print(f"{total} slips, {left} unnoticed")
    return 1 if left else 0


def _apart(paths: Sequence[Path]) -> dict[str, tuple[int, list[str]]]:
    """Examine some paths in a child, so that each gathers its own tests afresh."""
    reading, writing = os.pipe()
    child = os.fork()
    if not child:
        os.close(reading)
        try:
            _silence()
            with os.fdopen(writing, "w") as pipe:
                json.dump(examine(paths), pipe)
        finally:
            os._exit(0)
    os.close(writing)
    with os.fdopen(reading) as pipe:
        said = pipe.read()
    os.waitpid(child, 0)
    assert said, f"{paths[0].name} could not be examined: do its tests pass?"
    return {name: (count, survivors) for name, (count, survivors) in json.loads(said).items()}


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
