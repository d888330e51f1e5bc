"""Which facts a log may hold, and what a line of each kind must say."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class LogKind:
    """One kind of line: the keys that it must have, which key holds its value, and the least value allowed."""

    needs: tuple[str, ...]
    """Keys that must be there, beside time and what."""
    value: str = "value_mm"
    """Key of the value; empty for a line that has none."""
    low: int | None = None
    """Least value, in the unit of the value's key; None where any sign is right."""


_AT_MARK = ("mark",)

LOG_KINDS = {
    # The ground and the footings
    "level": LogKind(needs=("x_mm", "y_mm")),
    "footing-level": LogKind(needs=_AT_MARK),
    # The frame: distances between its corners, its level, the rod held on it
    "distance": LogKind(needs=_AT_MARK, low=1),
    "frame-level": LogKind(needs=_AT_MARK),
    "frame-rod": LogKind(needs=_AT_MARK),
    # The posts
    "post-gap": LogKind(needs=_AT_MARK, low=0),
    "post-length": LogKind(needs=_AT_MARK, low=1),
    "foot-gap": LogKind(needs=_AT_MARK, low=0),
    "jack": LogKind(needs=_AT_MARK, value=""),
    # The boards
    "board-width": LogKind(needs=_AT_MARK, low=1),
    "board-edge": LogKind(needs=_AT_MARK),
    "bow": LogKind(needs=_AT_MARK),
    "moisture": LogKind(needs=_AT_MARK, value="value_pct", low=0),
    # The timber: a stick that came, a piece sawn, a stick that is gone
    "stick": LogKind(needs=("mark", "species", "width_mm", "depth_mm"), low=1),
    "sawn": LogKind(needs=_AT_MARK, low=1),
    "stick-gone": LogKind(needs=_AT_MARK, value=""),
    # A slip taken back
    "undo": LogKind(needs=("of",), value=""),
}
"""The kinds by the word in ``what``; a new kind is a row here and a row in docs/job-file.md."""
