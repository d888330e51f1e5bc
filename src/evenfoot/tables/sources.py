"""What stands behind the figures: every source on record by its id."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """A document, page or judgement that figures were taken from."""

    key: str
    title: str
    publisher: str


def source_on_record(key: str) -> Source | None:
    """Return the source with this id, None when there is none."""
    return _sources().get(key)


@cache
def _sources() -> Mapping[str, Source]:
    folder = files("evenfoot.tables") / "data" / "sources"
    found: dict[str, Source] = {}
    for path in sorted(folder.iterdir(), key=lambda p: p.name):
        for key, entry in tomllib.loads(path.read_text(encoding="utf-8")).items():
            assert key not in found, f"{key} is on record twice"
            found[key] = Source(key=key, title=entry["title"], publisher=entry["publisher"])
    return found
