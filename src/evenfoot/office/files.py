"""Files written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from evenfoot.errors import Fault, StoreError


def write_all(folder: Path, contents: Mapping[str, bytes]) -> tuple[Path, ...]:
    """Write every file of ``contents`` (name inside ``folder`` to bytes) and return their paths.

    All are written beside their places first and renamed when every one is on the disk, so that a fault leaves
    what stood there before.
    Raises: StoreError (``cannot-write``) when the disk refuses.
    """
    waiting: list[tuple[Path, Path]] = []
    try:
        for name, data in contents.items():
            place = folder / name
            place.parent.mkdir(parents=True, exist_ok=True)
            handle, temporary = tempfile.mkstemp(dir=place.parent, prefix=".", suffix=".part")
            waiting.append((Path(temporary), place))
            with os.fdopen(handle, "wb") as file:
                file.write(data)
        for temporary_path, place in waiting:
            temporary_path.chmod(0o644)
            temporary_path.replace(place)
    except OSError as error:
        for temporary_path, _ in waiting:
            temporary_path.unlink(missing_ok=True)
        raise StoreError(Fault(where=str(folder), code="cannot-write", found=error.strerror or "")) from error
    return tuple(place for _, place in waiting)


def write_file(path: Path, data: bytes) -> Path:
    """Write one file whole or not at all and return its path.

    Raises: StoreError (``cannot-write``) when the disk refuses.
    """
    return write_all(path.parent, {path.name: data})[0]
