"""Words of the pictures on the page: a picture's script speaks only what its element carries."""

from __future__ import annotations

from collections.abc import Mapping

from evenfoot.office.desk.tree import typed_at
from evenfoot.words import Speaker

_SPACE = (
    "corner",
    "above",
    "front",
    "side",
    "closer",
    "further",
    "boards",
    "frame",
    "posts",
    "house",
    "keys",
    "missing",
    "failed",
)


def space_words(speaker: Speaker, job_text: str) -> Mapping[str, str]:
    """Return the words of the picture in space, each to be written as ``data-NAME`` on its element.

    Of a floor that stands free no house is named, and none is drawn.
    """
    stands_free = typed_at(job_text, "site.house") is False
    return {name: speaker.say(f"desk-space.{name}") for name in _SPACE if not (stands_free and name == "house")}


def drawing_words(speaker: Speaker) -> Mapping[str, str]:
    """Return the words of the drawings at hand, each to be written as ``data-NAME`` on their element."""
    return {name: speaker.say(f"desk-drawing.{name}") for name in ("keys", "whole", "closer", "further")}
