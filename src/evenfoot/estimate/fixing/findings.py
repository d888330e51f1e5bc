"""What is found about fixings as a whole: none that fits, metal that rusts, loads that nobody reckoned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from evenfoot.checks import Check, Verdict
from evenfoot.estimate.model import Built, Fixing
from evenfoot.frame import JointKind
from evenfoot.tables import fasteners


def none_fits(use: str, thickness: float) -> Check:
    """Return the finding that nothing on record is right for a timber of this thickness [mm]."""
    return Check(
        subject=use,
        rule="no-fixing-fits",
        verdict=Verdict.FAILS,
        demand=thickness,
        unit="mm",
        remedy="bolt-or-longer-screw",
        facts=(("use_code", f"fixing.{use}"),),
    )


def check_metals(woods: Iterable[str], fixings: Sequence[Fixing]) -> Iterator[Check]:
    """Check that nothing rusts: stainless outdoors, above all in wood with tannin."""
    reason = "wood-with-tannin" if fasteners.tannin_species() & set(woods) else ""
    source, is_confirmed = fasteners.metal_source()
    steel = [fixing for fixing in fixings if fixing.metal != "stainless"]
    for fixing in steel:
        yield Check(
            subject=fixing.use,
            rule="fixing-metal",
            verdict=Verdict.FAILS,
            source=source,
            reason=reason,
            remedy="take-stainless",
            facts=(("use_code", f"fixing.{fixing.use}"), ("mark", fixing.mark)),
            confirmed=is_confirmed,
        )
    if fixings and not steel:
        yield Check(
            subject="fixings",
            rule="fixings-stainless",
            verdict=Verdict.OK,
            source=source,
            reason=reason,
            facts=(("marks", ", ".join(dict.fromkeys(f.mark for f in fixings))),),
            confirmed=is_confirmed,
        )


def check_loads(built: Built, fixings: Sequence[Fixing]) -> Iterator[Check]:
    """Say what is not reckoned here: slanting screws, and what hangs on fixings alone (butted joists, hangers)."""
    skewed = {c.use for c in fasteners.connections() if c.way is fasteners.Way.SKEW}
    slanting = sum(f.crossings for f in fixings if f.use in skewed)
    if slanting:
        yield Check(
            subject="fixings",
            rule="skew-distances",
            verdict=Verdict.NOT_CHECKED,
            source=fasteners.skew_rule().source,
            reason="no-rule-for-slanting-screws",
            facts=(("count", slanting),),
            confirmed=False,
        )
    butts = sum(f.crossings for f in fixings if f.use == "butt")
    hangers = sum(1 for j in built.frame.joints if j.kind is JointKind.HANGER)
    if butts:
        yield Check(
            subject="butt",
            rule="fixings-carry-load",
            verdict=Verdict.NOT_CHECKED,
            reason="no-strength-of-fixings",
            remedy="housing-or-hanger",
            facts=(("count", butts),),
        )
    if hangers:
        yield Check(
            subject="hanger",
            rule="hanger-nails",
            verdict=Verdict.NOT_CHECKED,
            reason="maker-names-nails",
            facts=(("count", hangers),),
        )
