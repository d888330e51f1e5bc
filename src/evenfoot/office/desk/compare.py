"""Two plans told apart in words, or several side by side: what grew, what it costs, what was gained and lost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from evenfoot.checks import Check, Verdict
from evenfoot.office.answers import Finding, findings_in
from evenfoot.office.desk.figures import Better, Figure, figures_of
from evenfoot.office.desk.past import KeyChange, key_changes
from evenfoot.office.desk.timber_changes import TimberChange, post_changes, timber_changes
from evenfoot.plan import Plan
from evenfoot.sheets import Figures
from evenfoot.words import Speaker


@dataclass(frozen=True, slots=True, kw_only=True)
class CompareRow:
    """One figure in both plans. ``difference`` is empty where nothing changed or one of them is not known.

    ``is_better`` is None where neither is: the same, not known, or a matter of the job.
    """

    code: str
    name: str
    before: str
    after: str
    difference: str
    before_value: float | None
    after_value: float | None
    is_better: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundChange:
    """A finding that only one plan has; ``others`` are the marks of those alike."""

    finding: Finding
    others: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Two plans side by side; ``gained`` are findings that only the later one has, gravest first."""

    rows: tuple[CompareRow, ...]
    posts: tuple[TimberChange, ...]
    timbers: tuple[TimberChange, ...]
    gained: tuple[FoundChange, ...]
    lost: tuple[FoundChange, ...]
    keys: tuple[KeyChange, ...]
    svg: str
    """Both plans on one drawing."""
    note: str
    """What its lines mean."""

    @property
    def is_same(self) -> bool:
        """Whether nothing that is told differs."""
        told = (self.posts, self.timbers, self.gained, self.lost, self.keys)
        return not any(told) and all(row.before == row.after for row in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class VariantRow:
    """One figure of every variant; ``best`` are the columns (from 0) that a carpenter would rather have."""

    code: str
    name: str
    said: tuple[str, ...]
    values: tuple[float | None, ...]
    best: tuple[int, ...]


def compare(before: Plan, after: Plan, speaker: Speaker, *, texts: tuple[str, str] = ("", "")) -> Comparison:
    """Return what differs between two plans; ``texts`` are their job files, for the keys that were typed anew."""
    from evenfoot.press import svg_of
    from evenfoot.sheets import compared

    figures = Figures(speaker=speaker)
    drawn = compared(before, after, speaker)
    pairs = _paired(figures_of(before, figures), figures_of(after, figures))
    return Comparison(
        rows=tuple(_row(old, new, figures, after.estimate.currency) for old, new in pairs),
        posts=post_changes(before, after, figures),
        timbers=timber_changes(before, after, figures),
        gained=_only_in(after, before, speaker),
        lost=_only_in(before, after, speaker),
        keys=key_changes(*texts),
        svg=svg_of(drawn.page),
        note=speaker.say("sheet-note.compared"),
    )


def variants(plans: Sequence[Plan], speaker: Speaker) -> tuple[VariantRow, ...]:
    """Return the figures of several plans side by side, one row for each figure."""
    figures = Figures(speaker=speaker)
    columns = [{f.code: f for f in figures_of(plan, figures)} for plan in plans]
    codes = dict.fromkeys(code for column in columns for code in column)
    return tuple(_variant_row(code, [column.get(code) for column in columns], figures) for code in codes)


def _variant_row(code: str, cells: Sequence[Figure | None], figures: Figures) -> VariantRow:
    known = [cell for cell in cells if cell is not None]
    values = tuple(None if cell is None else cell.value for cell in cells)
    numbers = [value for value in values if value is not None]
    best: tuple[int, ...] = ()
    if numbers and known[0].better is not Better.NEITHER and min(numbers) != max(numbers):
        wanted = min(numbers) if known[0].better is Better.LESS else max(numbers)
        best = tuple(column for column, value in enumerate(values) if value == wanted)
    nothing = figures.speaker.say("desk-compare.unknown")
    said = tuple(nothing if cell is None else cell.said for cell in cells)
    return VariantRow(code=code, name=known[0].name, said=said, values=values, best=best)


def _paired(
    before: tuple[Figure, ...], after: tuple[Figure, ...]
) -> Iterator[tuple[Figure | None, Figure] | tuple[Figure, None]]:
    old = {figure.code: figure for figure in before}
    for figure in after:
        yield old.pop(figure.code, None), figure
    for figure in old.values():
        yield figure, None


def _row(old: Figure | None, new: Figure | None, figures: Figures, currency: str) -> CompareRow:
    known = new or old
    assert known is not None, "a row has at least one figure"
    nothing = figures.speaker.say("desk-compare.unknown")
    a, b = (old.value if old else None), (new.value if new else None)
    difference, is_better = "", None
    if a is not None and b is not None and a != b:
        difference = _difference(known, b - a, figures, currency)
        if known.better is not Better.NEITHER:
            is_better = (b < a) is (known.better is Better.LESS)
    return CompareRow(
        code=known.code,
        name=known.name,
        before=old.said if old else nothing,
        after=new.said if new else nothing,
        difference=difference,
        before_value=a,
        after_value=b,
        is_better=is_better,
    )


def _difference(figure: Figure, by: float, figures: Figures, currency: str) -> str:
    """Return a difference with its sign, in the manner of its figure; nothing when it rounds to nothing."""
    sign, size = ("+", by) if by > 0 else ("−", -by)
    if figure.difference == "length":
        said = figures.length(size)
    elif figure.difference == "money":
        said = f"{figures.number(size, 0)} {currency}"
    else:
        said = figures.number(size, figure.places)
    return f"{sign}{said}" if any(c in "123456789" for c in said) else ""


def _only_in(one: Plan, other: Plan, speaker: Speaker) -> tuple[FoundChange, ...]:
    """Return what is found in one plan and not in the other, alike findings together; what is ok is no finding here."""
    theirs = {_key(check) for check in other.checks}
    alike: dict[object, list[Check]] = {}
    for check in one.checks:
        if check.verdict is not Verdict.OK and _key(check) not in theirs:
            alike.setdefault((check.rule, check.verdict, check.reason), []).append(check)
    found = []
    for group in alike.values():
        worst = max(group, key=lambda c: c.ratio or 0.0)
        others = dict.fromkeys(c.subject for c in group if c.subject != worst.subject)
        found.append((worst, tuple(others)))
    found.sort(key=lambda pair: (pair[0].verdict.order, -(pair[0].ratio or 0.0)))
    return tuple(FoundChange(finding=findings_in((worst,), speaker)[0], others=others) for worst, others in found)


def _key(check: Check) -> tuple[str, str, Verdict]:
    """Return what makes two findings the same, whatever their figures."""
    return check.rule, check.subject, check.verdict
