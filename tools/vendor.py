"""Fetch or build the libraries of others that ship inside this tree, byte for byte, at the versions pinned here.

Run by hand when a version changes; needs Node with npm and the npm registry, which Evenfoot itself does not::

    python tools/vendor.py            # write them where they belong, with the table of their hashes
    python tools/vendor.py --check    # build them again and tell whether the tree holds the same bytes
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
BUILDER = "esbuild@0.28.2"
SPACE = """\
export {
  BufferAttribute, BufferGeometry, Color, EdgesGeometry, Group, LineBasicMaterial, LineSegments, Mesh,
  MeshBasicMaterial, OrthographicCamera, Raycaster, Scene, Vector2, Vector3, WebGLRenderer,
} from "three";
export { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
export { LineMaterial } from "three/examples/jsm/lines/LineMaterial.js";
export { LineSegments2 } from "three/examples/jsm/lines/LineSegments2.js";
export { LineSegmentsGeometry } from "three/examples/jsm/lines/LineSegmentsGeometry.js";
export { GLTFLoader } from "three/examples/jsm/loaders/GLTFLoader.js";
"""
"""What the picture in space takes of three; the rest is left out of the bundle."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Vendored:
    """One library: where it goes, what it is, and how it is had from its package (bundled, or one file as it is)."""

    folder: str
    file: str
    package: str
    version: str
    licence: str
    entry: str = ""
    """Source of the bundle; empty where ``taken`` is copied."""
    taken: str = ""

    @property
    def licence_file(self) -> str:
        """Name of the licence text beside the library."""
        return f"{self.package}.LICENSE.txt"


LIBRARIES = (
    Vendored(
        folder="src/evenfoot/web/assets/vendor",
        file="three.js",
        package="three",
        version="0.187.0",
        licence="MIT",
        entry=SPACE,
    ),
    Vendored(
        folder="tests/journeys/vendor",
        file="axe.min.js",
        package="axe-core",
        version="4.14.1",
        licence="MPL-2.0",
        taken="axe.min.js",
    ),
)
HEAD = """\
# Libraries of others

Kept here as they came, so that nothing is fetched when Evenfoot runs or is tested. `tools/vendor.py` builds them again,
byte for byte; each licence stands beside its library. Never edit them by hand.

| file | name | version | licence | sha256 |
|---|---|---|---|---|
"""


def main(arguments: list[str]) -> int:
    """Write or check every library; return 1 when the tree holds other bytes."""
    is_check = "--check" in arguments
    with tempfile.TemporaryDirectory() as scratch:
        made = build(Path(scratch))
    wrong = [path for path, data in made.items() if not path.exists() or path.read_bytes() != data]
    if is_check:
        for path in wrong:
            print(f"{path.relative_to(ROOT)}: other bytes than a new build")
        return 1 if wrong else 0
    for path in wrong:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(made[path])
        print(f"{path.relative_to(ROOT)}: {len(made[path]):,} bytes")
    return 0


def build(scratch: Path) -> Mapping[Path, bytes]:
    """Return every file that this tool keeps, as a new build makes it."""
    (scratch / "package.json").write_text('{"private": true}\n', encoding="utf-8")
    pinned = (*(f"{one.package}@{one.version}" for one in LIBRARIES), BUILDER)
    run(scratch, "npm", "install", "--ignore-scripts", "--no-audit", "--no-fund", "--save-exact", *pinned)
    out: dict[Path, bytes] = {}
    for folder in dict.fromkeys(one.folder for one in LIBRARIES):
        rows = []
        for one in (one for one in LIBRARIES if one.folder == folder):
            source = scratch / "node_modules" / one.package
            data = bundle(scratch, one) if one.entry else (source / one.taken).read_bytes()
            out[ROOT / folder / one.file] = data
            out[ROOT / folder / one.licence_file] = (source / "LICENSE").read_bytes()
            digest = sha256(data).hexdigest()
            rows.append(f"| `{one.file}` | {one.package} | {one.version} | {one.licence} | `{digest}` |\n")
        out[ROOT / folder / "README.md"] = (HEAD + "".join(rows)).encode()
    return out


def bundle(scratch: Path, one: Vendored) -> bytes:
    """Return one minified ES module of what the entry names; its banner tells whose work it is."""
    (scratch / "entry.js").write_text(one.entry, encoding="utf-8")
    banner = f"/* {one.package} {one.version}, {one.licence} licence: see {one.licence_file} */"
    options = (
        "--bundle",
        "--minify",
        "--format=esm",
        "--target=es2022",
        "--legal-comments=none",
        f"--banner:js={banner}",
    )
    run(scratch, "node_modules/.bin/esbuild", "entry.js", *options, "--outfile=bundle.js", "--log-level=warning")
    return (scratch / "bundle.js").read_bytes()


def run(folder: Path, *command: str) -> None:
    """Run one command in a folder; a failure ends the tool."""
    subprocess.run(command, cwd=folder, check=True, stdout=subprocess.DEVNULL)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
