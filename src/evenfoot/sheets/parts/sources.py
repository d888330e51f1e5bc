"""What the findings rest on: numbered references, and the list of titles that the numbers stand for."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from evenfoot.plan import source_titles
from evenfoot.sheets.lists.listing import Field, Listing


@dataclass(frozen=True, slots=True, kw_only=True)
class References:
    """Sources numbered in the order in which findings name them: id to title, the first is number 1."""

    titles: Mapping[str, str]

    def cite(self, texts: Iterable[str]) -> str:
        """Return the numbers of all sources behind findings alike, and the clause or place of the first of them."""
        found = [pair for text in texts for pair in source_titles(text)]
        known = list(self.titles)
        numbers = sorted({known.index(key) + 1 for key, _ in found if key})
        clause = next((words for key, words in found if not key), "")
        return " ".join((*(f"[{n}]" for n in numbers), *([clause] if clause else ())))

    def listing(self) -> Listing:
        """Return every source with its number."""
        rows = tuple((f"[{number}]", title) for number, title in enumerate(self.titles.values(), start=1))
        fields = (Field(code="number"), Field(code="source-title", most=300.0))
        return Listing(code="sources", fields=fields, rows=rows)


def references(texts: Iterable[str]) -> References:
    """Return the sources named in what findings rest on (``Check.source``), each once."""
    return References(titles={key: title for text in texts for key, title in source_titles(text) if key})
