"""The answer about boards in words: which spacers, where the last edge lands, how sure that is; then every mark."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from evenfoot.office.setting.bench import Answer, Bench
from evenfoot.setting import boards

MEASURED_ENOUGH = 3
"""Boards measured before their spread is trusted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Floor:
    """The boards as planned [mm]: rows, the line that the last edge belongs on, gaps, where the tape is hooked."""

    rows: tuple[boards.PlannedRow, ...]
    line: float
    gap: float
    gap_low: float
    gap_high: float
    rip_min: float
    start: str


@dataclass(frozen=True, slots=True, kw_only=True)
class End:
    """One end of the boards: the last row laid, its far edge there [mm], what to do, the marks."""

    side: str
    laid: int
    at: float | None
    gap: boards.RunningGap
    marks: tuple[boards.BoardMark, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """All that is known of the boards being laid; ``widths`` as measured, by row [mm]."""

    floor: Floor
    ends: tuple[End, ...]
    spacing: boards.Spacing
    widths: Mapping[int, float]
    moist: boards.MoistGap | None


def boards_answer(bench: Bench, laid: Laid) -> Answer:
    """Return the answer for the ends of a floor: one where both are alike, else each by itself."""
    floor, ends, spacing, measured = laid.floor, laid.ends, laid.spacing, laid.widths
    is_vague = len(measured) < MEASURED_ENOUGH and any(end.gap.sure > spacing.within for end in ends)
    told = _Told(bench=bench, floor=floor, is_vague=is_vague)
    is_alike = len(ends) == 1
    joint = "" if bench.is_japanese else " "
    first = [told.spacers(end, is_named=not is_alike) for end in ends]
    second = [told.landing(end, spacing, is_named=not is_alike) for end in ends]
    worst = max(ends, key=lambda end: end.gap.sure)
    lines = (joint.join(first), joint.join(second), told.sure(worst))
    hook = "setting.boards.hook" if is_alike else "setting.boards.hook-each"
    detail = [told.say(hook, start_code=f"setting.boards.start-{floor.start}")]
    for end in ends:
        detail += told.marks(end, is_named=not is_alike)
    detail += told.measured(measured)
    detail += told.moist(laid.moist)
    detail.append(bench.unconfirmed(["gap_step", "gap_seen", "run_within"], option="--step, --within"))
    return Answer(
        what="boards",
        lines=lines,
        detail=tuple(detail),
        record=_record(laid),
        is_fine=all(end.gap.is_reachable for end in ends),
    )


class _Told:
    def __init__(self, *, bench: Bench, floor: Floor, is_vague: bool) -> None:
        self.bench = bench
        self.floor = floor
        self.is_vague = is_vague

    def say(self, code: str, **facts: str | float) -> str:
        return self.bench.speaker.say(code, **facts)

    def named(self, end: End, text: str, *, is_named: bool) -> str:
        return (
            self.say("setting.boards.at-end", side_code=f"setting.boards.{end.side}", text=text) if is_named else text
        )

    def spacers(self, end: End, *, is_named: bool) -> str:
        b = self.bench
        if not end.gap.batches:
            return self.named(end, self.say("setting.boards.no-gap"), is_named=is_named)
        parts, row = [], end.laid if end.at is not None else 1
        for batch in end.gap.batches:
            first, row = row + 1, row + batch.count
            code = "setting.boards.batch-one" if batch.count == 1 else "setting.boards.batch"
            parts.append(self.say(code, gap=b.small(batch.gap), first=first, last=row))
        return self.named(
            end,
            self.say("setting.boards.spacers", parts=self.say("setting.boards.then").join(parts)),
            is_named=is_named,
        )

    def landing(self, end: End, spacing: boards.Spacing, *, is_named: bool) -> str:
        b, gap = self.bench, end.gap
        facts = {"where": self.where(gap.misses), "within": b.small(spacing.within)}
        if gap.rip is None:
            said = self.say("setting.boards.lands", **facts)
        elif gap.rip.count and gap.rip.width:
            last = self.floor.rows[-1].number
            said = self.say(
                "setting.boards.rip-one" if gap.rip.count == 1 else "setting.boards.rip",
                first=last - gap.rip.count + 1,
                last=last,
                width=b.said(gap.rip.width),
                **facts,
            )
        elif gap.rip.width:
            said = self.say("setting.boards.one-more", width=b.said(gap.rip.width), **facts)
        else:
            said = self.say("setting.boards.out-of-reach", **facts)
        return self.named(end, said, is_named=is_named)

    def where(self, misses: float) -> str:
        """Return where the last edge lands beside its line."""
        by = self.bench.small(abs(misses))
        if by == self.bench.small(0.0):
            return self.say("setting.boards.on-line")
        return self.say("setting.boards.past" if misses > 0 else "setting.boards.short", by=by)

    def sure(self, end: End) -> str:
        left = self.floor.rows[-1].number - end.laid
        again = end.laid + max(1, left // 2)
        said = self.say("setting.boards.sure", sure=self.bench.plus(end.gap.sure), row=again)
        if not self.is_vague:
            return said
        return ("" if self.bench.is_japanese else " ").join([said, self.say("setting.boards.measure-widths")])

    def marks(self, end: End, *, is_named: bool) -> list[str]:
        length = self.bench.said
        said = [
            self.say(
                "setting.boards.mark",
                row=m.row,
                near=length(m.near),
                far=length(m.far),
                planned_near=length(m.planned_near),
                planned_far=length(m.planned_far),
            )
            for m in end.marks
        ]
        return [self.named(end, text, is_named=is_named) for text in said]

    def measured(self, measured: Mapping[int, float]) -> list[str]:
        length = self.bench.said
        planned = {row.number: row.far - row.near for row in self.floor.rows}
        return [
            self.say("setting.boards.measured", row=row, width=length(width), planned=length(planned[row]))
            for row, width in sorted(measured.items())
            if row in planned
        ]

    def moist(self, moist: boards.MoistGap | None) -> list[str]:
        """Return what the gap becomes over the year, where the boards are not as moist as planned."""
        if moist is None:
            return []
        small = self.bench.small
        return [
            self.say(
                "setting.boards.moist",
                read=f"{moist.read:.1f}",
                planned=f"{moist.planned:g}",
                laid=small(moist.laid),
                dry=small(moist.dry),
                wet=small(moist.wet),
                advised=small(moist.advised),
            )
        ]


def _record(laid: Laid) -> dict[str, object]:
    floor, ends, spacing, measured, moist = laid.floor, laid.ends, laid.spacing, laid.widths, laid.moist
    return {
        "moisture": None
        if moist is None
        else {
            "read_pct": moist.read,
            "planned_pct": moist.planned,
            "laid_mm": moist.laid,
            "dry_mm": moist.dry,
            "wet_mm": moist.wet,
            "advised_mm": moist.advised,
        },
        "rows": len(floor.rows),
        "line_mm": floor.line,
        "planned_gap_mm": floor.gap,
        "within_mm": spacing.within,
        "step_mm": spacing.step,
        "measured_widths": [{"row": row, "width_mm": width} for row, width in sorted(measured.items())],
        "ends": [
            {
                "side": end.side or "both",
                "laid_rows": end.laid,
                "laid_to_mm": end.at,
                "even_gap_mm": end.gap.even,
                "spacers": [{"boards": b.count, "gap_mm": b.gap} for b in end.gap.batches],
                "misses_mm": end.gap.misses,
                "sure_mm": end.gap.sure,
                "is_reachable": end.gap.is_reachable,
                "rip": None if end.gap.rip is None else {"boards": end.gap.rip.count, "width_mm": end.gap.rip.width},
                "marks": [
                    {
                        "row": m.row,
                        "near_mm": m.near,
                        "far_mm": m.far,
                        "planned_near_mm": m.planned_near,
                        "planned_far_mm": m.planned_far,
                    }
                    for m in end.marks
                ],
            }
            for end in ends
        ],
    }
