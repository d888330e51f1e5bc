"""What a finding rests on, in words: ids of sources become their titles."""

from __future__ import annotations

from evenfoot.tables import source_on_record


def source_titles(text: str) -> tuple[tuple[str, str], ...]:
    """Return (id, title and publisher) for every source id that ``Check.source`` begins with, in its order.

    What follows the ids, or stands alone, is a clause or a place in the job file: it comes last, as it is, with an
    empty id. An empty text gives nothing.
    """
    words = text.split()
    out: list[tuple[str, str]] = []
    for place, word in enumerate(words):
        source = source_on_record(word)
        if source is None:
            return (*out, ("", " ".join(words[place:])))
        out.append((source.key, f"{source.title}; {source.publisher}"))
    return tuple(out)
