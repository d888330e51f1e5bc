"""The plan as bodies in space: every timber with its mark, its wood and what a shop wants to know of it."""

from __future__ import annotations

from evenfoot.ink import bodies as ink
from evenfoot.plan import Plan, Standing, standing
from evenfoot.words import Speaker


def bodies(plan: Plan, speaker: Speaker) -> tuple[ink.Body, ...]:
    """Return everything that stands there as bodies, from the ground up; names are in the speaker's language."""
    return tuple(_body(one, speaker) for one in standing(plan))


def _body(one: Standing, speaker: Speaker) -> ink.Body:
    is_timber = bool(one.species)
    material = speaker.say(f"species.{one.species}") if is_timber else speaker.say("sheet.footing-stuff")
    properties: tuple[tuple[str, ink.Value], ...] = (
        ("length_mm", round(one.length, 1)),
        ("width_mm", round(one.width, 1)),
        ("depth_mm", round(one.depth, 1)),
    )
    if is_timber:
        properties = (*properties, ("species", one.species), ("strength_grade", one.strength_grade))
    return ink.Body(
        mark=one.mark,
        name=speaker.say("sheet.body-name", thing=speaker.say(f"sheet-role.{one.thing}"), mark=speaker.mark(one.mark)),
        thing=ink.Thing(one.thing),
        material=material,
        mesh=one.solid.mesh(),
        volume=one.solid.volume,
        properties=properties,
    )
