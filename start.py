"""Set Evenfoot up in its own folder and run it: needs only Python 3.11 or newer and the package registry.

python start.py example     plan the shipped example and say where the sheets are
python start.py test        run every test, on all cores
python start.py lint        formatter, lint and types
python start.py run ...     any evenfoot command, such as: run plan my-job/job.toml
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parent
HOME = ROOT / ".venv"
PYTHON = HOME / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
LOCK = ROOT / "requirements.lock"
STAMP = HOME / "evenfoot.stamp"
EXAMPLE = ROOT / "examples" / "library-terrace" / "job.toml"


def run(*command: object) -> int:
    """Run one command from the project's folder and return its exit code."""
    return subprocess.run([str(c) for c in command], cwd=ROOT, check=False).returncode


def stamp() -> str:
    """Return what the set-up depends on: the lock, the project file and this Python."""
    facts = LOCK.read_bytes() + (ROOT / "pyproject.toml").read_bytes() + sys.version.encode() + str(ROOT).encode()
    return hashlib.sha256(facts).hexdigest()


def set_up() -> None:
    """Make the project's own environment from the lock, once; again when the lock changes."""
    if STAMP.exists() and STAMP.read_text(encoding="utf-8") == stamp():
        return
    print("Setting up in .venv (about half a minute, once) ...", flush=True)
    if not PYTHON.exists() and run(sys.executable, "-m", "venv", HOME):
        sys.exit("Python could not make an environment. On Debian or Ubuntu first: apt install python3-venv")
    pip = (PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-deps")
    if run(*pip, "--require-hashes", "-r", LOCK) or run(*pip, "--no-build-isolation", "-e", ROOT):
        sys.exit("The packages could not be installed; is the package registry reachable?")
    STAMP.write_text(stamp(), encoding="utf-8")


def example() -> int:
    """Plan the shipped example. Its shortfalls are findings, not faults: code 1 is an answer too."""
    out = ROOT / "out" / EXAMPLE.parent.name
    code = run(PYTHON, "-m", "evenfoot", "plan", EXAMPLE, "--out", out)
    if code in {0, 1}:
        print(f"\nThe sheets: {out / 'sheets.pdf'}")
        return 0
    return code


def missing() -> list[str]:
    """Return the packages of the system that the tests need and that are not here, as Debian names them."""
    servers = [*Path("/usr/lib/postgresql").glob("*/bin/initdb"), shutil.which("initdb")]
    browsers = [path for path in (Path("/usr/bin/chromium"),) if path.exists()]
    return [name for name, found in (("postgresql", any(servers)), ("chromium", browsers)) if not found]


def test(*rest: str) -> int:
    """Run every test; say first what is missing, for a test that cannot run fails, it is never passed over."""
    names = " ".join(missing())
    if names:
        print(f"Not here: {names}. The tests of the second database or of the page will fail.", flush=True)
        print(f"On Debian or Ubuntu first: apt-get install {names}", flush=True)
    return run(PYTHON, "-m", "pytest", "-n", "auto", "--dist", "loadfile", *rest)


def main(arguments: Sequence[str]) -> int:
    """Set up, then do what was asked."""
    if sys.version_info < (3, 11):  # noqa: UP036 - this file is what an older Python runs first
        sys.exit("Evenfoot needs Python 3.11 or newer.")
    verb, rest = (arguments[0], arguments[1:]) if arguments else ("", ())
    actions = {
        "example": example,
        "test": lambda: test(*rest),
        "lint": lambda: (
            run(PYTHON, "-m", "ruff", "format", "--check", ".")
            or run(PYTHON, "-m", "ruff", "check", ".")
            or run(PYTHON, "-m", "mypy")
        ),
        "run": lambda: run(PYTHON, "-m", "evenfoot", *rest),
    }
    if verb not in actions:
        print(__doc__)
        return 2
    set_up()
    return actions[verb]()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
