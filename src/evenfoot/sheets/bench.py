"""What every sheet is drawn from: the plan, the way to write its numbers, and the clear paper."""

from __future__ import annotations

from dataclasses import dataclass

from evenfoot.plan import Plan
from evenfoot.sheets.drafting.paper import Area
from evenfoot.sheets.figures import Figures


@dataclass(frozen=True, slots=True, kw_only=True)
class Bench:
    """The plan on the bench, ready to be drawn."""

    plan: Plan
    figures: Figures
    area: Area

    @property
    def has_house(self) -> bool:
        """Whether the floor is at a house, or stands free beside a base line."""
        return self.plan.job.site.has_house

    @property
    def post_lines(self) -> tuple[float, ...]:
        """Lines of posts that run away from the house, by their place along it [mm]."""
        return tuple(sorted({post.x for post in self.plan.frame.posts}))

    @property
    def outline_x(self) -> tuple[float, float]:
        """Left and right edge of the floor [mm]."""
        xs = [p[0] for p in self.plan.layout.outline]
        return min(xs), max(xs)

    @property
    def outline_y(self) -> tuple[float, float]:
        """House and outer edge of the floor [mm]."""
        ys = [p[1] for p in self.plan.layout.outline]
        return min(ys), max(ys)

    def say(self, code: str, **facts: str | float) -> str:
        """Return words."""
        return self.figures.speaker.say(code, **facts)

    def title(self, code: str, *, number: int, count: int) -> str:
        """Return the title of a sheet, with its part where a drawing takes several."""
        title = self.say(f"sheet-title.{code}")
        return title if count == 1 else self.say("sheet.part", title=title, number=number, count=count)
