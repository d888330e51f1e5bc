"""Which words the phone takes along, in both languages, and what it says instead where a command would be named."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from evenfoot.words import catalogue, said_instead

_GROUPS = (
    "pack.",
    "log-kind.",
    "setting.boards.",
    "setting.corner-",
    "setting.level.",
    "setting.line-",
    "setting.more.",
    "setting.posts.",
    "setting.slip.",
    "setting.square.",
    "setting.way.",
    "sheet-cut.",
    "sheet-face.",
)
_AT_THE_DESK = (
    "pack.disagree",
    "pack.join-",
    "setting.posts.ask-",
    "setting.posts.odds",
    "setting.posts.order-",
    "setting.posts.stage",
    "setting.posts.tight-",
)
"""What is only ever said on the computer."""
_INSTEAD = "pack-instead."


def words_record(instead: Sequence[str] = ()) -> dict[str, Mapping[str, str]]:
    """Return the sentences of the stations by code, each in every language.

    Some sentences of ``evenfoot set`` name its options; on the phone they name what is on the screen (codes that begin
    with ``pack-instead.``). ``instead`` are beginnings of other codes that are said instead.
    """
    entries = catalogue()
    return {code: entries[said_instead(code, (_INSTEAD, *instead))] for code in entries if _is_taken(code)}


def _is_taken(code: str) -> bool:
    return code.startswith(_GROUPS) and not code.startswith(_AT_THE_DESK)
