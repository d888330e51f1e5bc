"""The house: who may import whom, through which door, and how large a thing may grow."""

from __future__ import annotations

import ast
import importlib
import tomllib
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SOURCE = ROOT / "src" / "evenfoot"
ROOMS: dict[str, list[str]] = tomllib.loads((Path(__file__).parent / "rooms.toml").read_text(encoding="utf-8"))
MODULES = sorted(SOURCE.rglob("*.py"))
ROOM_FOLDERS = sorted(p.name for p in SOURCE.iterdir() if (p / "__init__.py").exists())


def room_of(path: Path) -> str:
    relative = path.relative_to(SOURCE)
    return relative.parts[0] if len(relative.parts) > 1 else relative.stem


@cache
def tree_of(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def imports_of(path: Path) -> list[tuple[str, tuple[str, ...]]]:
    """Every import in a file, those inside functions and under TYPE_CHECKING included: (module, names)."""
    out: list[tuple[str, tuple[str, ...]]] = []
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Import):
            out += [(alias.name, ()) for alias in node.names]
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            out.append((node.module or "", tuple(alias.name for alias in node.names)))
    return out


def own_imports(path: Path) -> list[tuple[str, str, tuple[str, ...]]]:
    """(room, module, names) of the imports from the package itself."""
    found = []
    for module, names in imports_of(path):
        if module == "evenfoot":
            found += [(name, f"evenfoot.{name}", ()) for name in names]
        elif module.startswith("evenfoot."):
            found.append((module.split(".")[1], module, names))
    return found


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_arrows_are_in_the_rooms_table(path):
    room = room_of(path)
    if room == "__init__":
        return
    assert room in ROOMS, f"room {room} is not in rooms.toml"
    for other, module, _ in own_imports(path):
        assert other in {room, "errors", *ROOMS[room]}, f"{room} may not import {module}"


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_rooms_are_entered_by_the_front_door(path):
    room = room_of(path)
    for other, module, names in own_imports(path):
        is_room = (SOURCE / other / "__init__.py").exists()
        if other == room or not is_room or other == "rules":
            continue
        assert module == f"evenfoot.{other}", f"{path.name}: {module} is behind the front door of {other}"
        doors = set(importlib.import_module(f"evenfoot.{other}").__all__)
        assert set(names) <= doors, f"{path.name}: {set(names) - doors} are not at the front door of {other}"


def test_the_table_has_no_ring():
    done: set[str] = set()
    while len(done) < len(ROOMS):
        ready = {r for r, needs in ROOMS.items() if r not in done and set(needs) <= done}
        assert ready, f"a ring among {sorted(set(ROOMS) - done)}"
        done |= ready


@pytest.mark.parametrize("name", ROOM_FOLDERS)
def test_front_doors_are_narrow(name):
    room = importlib.import_module(f"evenfoot.{name}")
    if name == "rules":
        return
    assert hasattr(room, "__all__"), f"{name} has no __all__"
    assert len(room.__all__) <= 15
    for public in room.__all__:
        assert hasattr(room, public)


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_files_can_be_read_in_one_sitting(path):
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_functions_are_short_and_modules_say_what_they_answer(path):
    tree = tree_of(path)
    assert ast.get_docstring(tree), f"{path} has no docstring"
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            doc = node.body[0] if ast.get_docstring(node) else None
            lines = (node.end_lineno or 0) - node.lineno + 1
            if doc is not None:
                lines -= (doc.end_lineno or 0) - doc.lineno + 1
            assert lines <= 45, f"{path.name}:{node.lineno} {node.name} has {lines} lines"


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(SOURCE)))
def test_only_the_family_of_errors_is_raised(path):
    """No bare Exception, ValueError or catch-all: errors are Evenfoot's, broken invariants are assertions."""
    allowed_raises = {"AssertionError", "NotImplementedError", "KeyError"}
    for node in ast.walk(tree_of(path)):
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call) and isinstance(node.exc.func, ast.Name):
            name = node.exc.func.id
            is_builtin = name in dir(__builtins__) or (isinstance(__builtins__, dict) and name in __builtins__)
            assert not is_builtin or name in allowed_raises, f"{path.name}:{node.lineno} raises {name}"
        if isinstance(node, ast.ExceptHandler):
            assert node.type is not None, f"{path.name}:{node.lineno} catches everything"


def test_the_room_count_stays_small():
    for name in ROOM_FOLDERS:
        modules = [p for p in (SOURCE / name).glob("*.py") if p.name != "__init__.py"]
        if name not in {"sheets", "rules", "tables"}:
            assert len(modules) <= 10, f"{name} has {len(modules)} modules: split the room"
