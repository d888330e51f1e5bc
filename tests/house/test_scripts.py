"""Scripts of the page, and the libraries of others beside them."""

from __future__ import annotations

import re
from hashlib import sha256
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
ASSETS = ROOT / "src" / "evenfoot" / "web" / "assets"
SCRIPTS = sorted(p for p in ASSETS.rglob("*.js") if p.parent.name != "vendor")
VENDORS = (ASSETS / "vendor", ROOT / "tests" / "journeys" / "vendor")
ROW = re.compile(r"^\| `(?P<file>[^`]+)` \| (?P<name>\S+) \| (?P<version>\S+) \| \S+ \| `(?P<digest>[0-9a-f]{64})` \|$")


def rows(folder: Path) -> list[dict[str, str]]:
    lines = (folder / "README.md").read_text(encoding="utf-8").splitlines()
    return [found.groupdict() for found in map(ROW.match, lines) if found]


@pytest.mark.parametrize("folder", VENDORS, ids=lambda p: p.parent.name)
def test_libraries_of_others_are_the_bytes_that_were_written_down(folder):
    told = rows(folder)
    assert told
    for row in told:
        data = (folder / row["file"]).read_bytes()
        assert sha256(data).hexdigest() == row["digest"], row["file"]
        assert row["version"] in data[:2000].decode("utf-8", errors="ignore"), "the library says another version"
        assert (folder / f"{row['name']}.LICENSE.txt").read_text(encoding="utf-8").strip()
    kept = {row["file"] for row in told} | {f"{row['name']}.LICENSE.txt" for row in told} | {"README.md"}
    assert {p.name for p in folder.iterdir()} == kept, "nothing stands here without a row"


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: str(p.relative_to(ASSETS)))
def test_scripts_can_be_read_in_one_sitting_and_say_what_they_do(path):
    lines = path.read_text(encoding="utf-8").splitlines()
    assert len(lines) <= 300
    assert lines[0].startswith(("// ", "/* ", "/** "))
    assert max(map(len, lines)) <= 120


@pytest.mark.parametrize("path", SCRIPTS, ids=lambda p: str(p.relative_to(ASSETS)))
def test_scripts_load_only_what_ships_here(path):
    for target in re.findall(r"""(?:from|import)\s*\(?\s*["']([^"']+)["']""", path.read_text(encoding="utf-8")):
        assert target.startswith(("./", "../")), f"{path.name} loads {target}"
        assert (path.parent / target).resolve().is_file(), f"{path.name} loads {target}, which is not here"
