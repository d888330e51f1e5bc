"""What a log says about posts: gaps, lengths as cut, feet that stand or hang, and the jacks that stood meanwhile."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evenfoot.office.setting.bench import Bench
from evenfoot.setting import NINETEEN_IN_TWENTY


@dataclass(frozen=True, slots=True, kw_only=True)
class PostReadings:
    """Readings by the mark of the post [mm]."""

    gaps: Mapping[str, float]
    gap_accuracy: Mapping[str, float]
    """Standard deviation of each gap that says its own."""
    lengths: Mapping[str, float]
    seen: Mapping[str, float]
    """Gap under the foot, 0 where it stands."""
    jacks: Mapping[str, frozenset[str]]
    """Which jacks stood when the gap of a post was read."""
    levels: Mapping[str, float]
    """How high above its place the frame lay over a post on its jacks."""
    levels_on_feet: Mapping[str, float]
    """The same, read with the floor on its feet."""
    has_boards: bool

    @property
    def marks(self) -> frozenset[str]:
        """Every post that a reading names."""
        stood = frozenset().union(*self.jacks.values()) if self.jacks else frozenset()
        return frozenset(self.gaps) | frozenset(self.lengths) | frozenset(self.seen) | stood


def post_readings(bench: Bench, *, has_boards: bool) -> PostReadings:
    """Return the readings of a log that count, in the order that they were written.

    A jack that is set after gaps were read begins a new setting of jacks. Feet that were seen before a post was cut
    again, or a gap measured anew, were seen on another floor: they no longer count.
    """
    gaps: dict[str, float] = {}
    accuracy: dict[str, float] = {}
    lengths: dict[str, float] = {}
    seen: dict[str, float] = {}
    jacks: dict[str, frozenset[str]] = {}
    levels: dict[str, float] = {}
    on_feet: dict[str, float] = {}
    standing: frozenset[str] = frozenset()
    were_gaps_read = False
    for line in bench.log.standing:
        if line.what == "jack":
            standing = frozenset({line.mark}) if were_gaps_read else standing | {line.mark}
            were_gaps_read = False
        elif line.what == "post-gap":
            gaps[line.mark] = line.value
            jacks.pop(line.mark, None)
            jacks |= {line.mark: standing} if standing else {}
            if line.accuracy is not None:
                accuracy[line.mark] = line.accuracy / NINETEEN_IN_TWENTY
            were_gaps_read = True
            seen.clear()
            on_feet.clear()
        elif line.what == "post-length":
            lengths[line.mark] = line.value
            seen.clear()
            on_feet.clear()
        elif line.what == "foot-gap":
            seen[line.mark] = line.value
        elif line.what == "frame-level":
            (on_feet if seen or lengths else levels)[line.mark] = line.value
    return PostReadings(
        gaps=gaps,
        gap_accuracy=accuracy,
        lengths=lengths,
        seen=seen,
        jacks=jacks,
        levels=_above_place(bench, levels),
        levels_on_feet=_above_place(bench, on_feet),
        has_boards=has_boards or bool(bench.log.latest("board-edge")),
    )


def _above_place(bench: Bench, levels: Mapping[str, float]) -> dict[str, float]:
    """Return how far above its planned top the frame lies at each post whose level was read; none without a job."""
    if bench.plan is None:
        return {}
    frame = bench.plan.frame
    return {p.mark: levels[p.mark] - (frame.top_at_wall - frame.fall * p.y) for p in frame.posts if p.mark in levels}
