"""The lists of the set: posts, timbers, order, fixings, coats, hours and money."""

from __future__ import annotations

from decimal import Decimal

from evenfoot.cutting import told
from evenfoot.estimate import Money, OrderLine
from evenfoot.sheets.bench import Bench
from evenfoot.sheets.lists.listing import Field, Kind, Listing, Value
from evenfoot.sheets.parts.sawing import proof_words


def member_list(bench: Bench) -> Listing:
    """Return every timber of the frame."""
    masses = {m.mark: m for m in bench.plan.timber.masses}
    rows: list[tuple[Value, ...]] = []
    for member in bench.plan.frame.members:
        mass = masses.get(member.mark)
        rows.append(
            (
                member.mark,
                bench.say(f"sheet-role.{member.role.value}"),
                bench.figures.said("species", member.species),
                bench.figures.look(member.look),
                bench.figures.said("sheet-grade", member.strength_grade),
                bench.figures.section(member.width, member.depth),
                member.length,
                mass.mass if mass else None,
                mass.people if mass else None,
            )
        )
    return Listing(
        code="timbers",
        fields=(
            Field(code="mark", kind=Kind.MARK),
            Field(code="role"),
            Field(code="species"),
            Field(code="look"),
            Field(code="grade"),
            Field(code="section"),
            Field(code="length", kind=Kind.KEY),
            Field(code="mass", kind=Kind.NUMBER),
            Field(code="people", kind=Kind.COUNT),
        ),
        rows=tuple(rows),
    )


def joint_list(bench: Bench) -> Listing:
    """Return every joint with who bears on whom."""
    return Listing(
        code="joints",
        fields=(
            Field(code="place", kind=Kind.MARK),
            Field(code="joint"),
            Field(code="upper", kind=Kind.MARK),
            Field(code="lower", kind=Kind.MARK),
            Field(code="cut-upper", kind=Kind.CUT),
            Field(code="cut-lower", kind=Kind.CUT),
            Field(code="seat", kind=Kind.CUT),
        ),
        rows=tuple(
            (
                j.mark.split(".", 1)[0].rstrip("+-"),
                bench.say(f"sheet-joint.{j.kind.value}"),
                j.upper,
                j.lower,
                j.cut_upper or None,
                j.cut_lower or None,
                j.seat or None,
            )
            for j in bench.plan.frame.joints
        ),
    )


def order_list(bench: Bench) -> Listing:
    """Return what to buy."""
    return Listing(
        code="order",
        fields=(
            Field(code="kind"),
            Field(code="what"),
            Field(code="look"),
            Field(code="section"),
            Field(code="stick-length", kind=Kind.LENGTH),
            Field(code="quantity", kind=Kind.COUNT),
            Field(code="unit"),
            Field(code="yards-count"),
            Field(code="price"),
        ),
        rows=tuple(_order(bench, line) for line in bench.plan.estimate.order),
    )


def _order(bench: Bench, line: OrderLine) -> tuple[Value, ...]:
    figures, currency = bench.figures, bench.plan.estimate.currency
    label = bench.say(line.label) if figures.speaker.knows(line.label) else line.label
    species = figures.said("species", line.species) if line.species else ""
    names = tuple(dict.fromkeys(n for n in (label, species) if n))
    price = figures.money(line.price.low, line.price.high, currency)
    return (
        figures.said("order", line.kind),
        bench.say("sheet.comma").join(names),
        figures.look(line.look) if line.look else "",
        figures.section(*line.section) if line.section else "",
        line.length,
        line.quantity,
        figures.said("sheet-count", _counted_as(line)),
        _yards_count(line),
        price if line.is_priced else bench.say("sheet.no-price"),
    )


def order_told(bench: Bench) -> Listing:
    """Return what the timber of the order comes to: spares, price, waste, offcuts, and what is proved."""
    plan, figures = bench.plan, bench.figures
    tally = told.tally(plan.cutting.sections)
    currency = plan.estimate.currency
    spares = tuple(piece.mark for piece in plan.cutting.pieces if piece.is_spare)
    waste = figures.money(tally.waste_cost, tally.waste_cost, currency)
    rows = (
        ("timber-price", figures.money(tally.price_low, tally.price_high, currency)),
        ("spares", figures.some(spares) if spares else bench.say("sheet.none")),
        ("waste", f"{tally.waste_share * 100:.1f} %  {figures.length(tally.waste_length)}  {waste}"),
        ("kept", figures.length(tally.kept_length)),
        ("bound", figures.money(tally.bound, tally.bound, currency)),
        ("proof", proof_words(bench, tally)),
        ("left-out", str(len(plan.cutting.left_out)) if plan.cutting.left_out else ""),
    )
    return Listing(
        code="order-told",
        fields=(Field(code="what"), Field(code="is")),
        rows=tuple((bench.say(f"sheet-order.{name}"), value) for name, value in rows if value),
    )


def _yards_count(line: OrderLine) -> str:
    """Return how much it is as the yard counts, where it does not count pieces."""
    written = {"m": f"{line.amount:.2f} m", "m3": f"{line.amount:.4f} m³"}
    return written.get(line.sold_by, "") if line.kind == "timber" else ""


def _counted_as(line: OrderLine) -> str:
    """Return what an order line is counted in: sticks of timber have their own word in Japanese."""
    return "each" if line.unit == "piece" and line.kind not in {"timber", "rack", "hand"} else line.unit


def fixing_list(bench: Bench) -> Listing:
    """Return every kind of nail or screw: where, how many, how to bore, and what distances to keep."""
    fixings = bench.plan.estimate.fixings
    return Listing(
        code="fixings",
        fields=(
            Field(code="where"),
            Field(code="fixing"),
            Field(code="metal"),
            Field(code="size"),
            Field(code="per-crossing", kind=Kind.COUNT),
            Field(code="crossings", kind=Kind.COUNT),
            Field(code="count", kind=Kind.COUNT),
            Field(code="pilot"),
            Field(code="end-distance", kind=Kind.LENGTH),
            Field(code="edge-distance", kind=Kind.LENGTH),
            Field(code="set-in", kind=Kind.LENGTH),
            Field(code="confirmed"),
        ),
        rows=tuple(
            (
                bench.figures.said("fixing", f.use),
                f.mark,
                bench.figures.said("sheet-metal", f.metal) if f.metal else "",
                f"φ{f.shank:g} × {f.length:g} mm",
                f.per_crossing,
                f.crossings,
                f.count,
                _pilot(bench, f.pilot, f.pilot_near),
                f.end_distance or None,
                f.edge_distance or None,
                f.set_in or None,
                confirmed(bench, is_confirmed=f.is_confirmed),
            )
            for f in fixings
        ),
    )


def _pilot(bench: Bench, everywhere: float, near: float) -> str:
    if everywhere:
        return f"φ{everywhere:g} mm"
    return bench.say("sheet.pilot-near", size=f"φ{near:g} mm") if near else "–"


def confirmed(bench: Bench, *, is_confirmed: bool) -> str:
    """Return a warning beside figures that no source has confirmed."""
    return "" if is_confirmed else bench.say("sheet.unconfirmed")


def coat_list(bench: Bench) -> Listing:
    """Return areas and litres by face and coat."""
    return Listing(
        code="coats",
        fields=(
            Field(code="face"),
            Field(code="coat", kind=Kind.COUNT),
            Field(code="area", kind=Kind.NUMBER),
            Field(code="litres"),
            Field(code="when"),
        ),
        rows=tuple(
            (
                bench.say(f"sheet-coat.{c.face}"),
                c.coat,
                round(c.area, 2),
                bench.figures.range(c.litres_low, c.litres_high, 2),
                bench.say(f"sheet-when.{c.when}"),
            )
            for c in bench.plan.estimate.coats
        ),
    )


def work_list(bench: Bench) -> Listing:
    """Return hours by kind of work."""
    return Listing(
        code="work",
        fields=(
            Field(code="task"),
            Field(code="quantity", kind=Kind.NUMBER),
            Field(code="unit"),
            Field(code="hours-low", kind=Kind.NUMBER),
            Field(code="hours", kind=Kind.NUMBER),
            Field(code="hours-high", kind=Kind.NUMBER),
            Field(code="confirmed"),
        ),
        rows=tuple(
            (
                bench.figures.said("work", w.task),
                round(w.quantity, 2),
                bench.figures.said("sheet-count", w.unit),
                round(w.low, 1),
                round(w.typical, 1),
                round(w.high, 1),
                confirmed(bench, is_confirmed=w.is_confirmed),
            )
            for w in bench.plan.estimate.work
        ),
    )


def price_list(bench: Bench) -> Listing:
    """Return what the price is made of."""
    estimate = bench.plan.estimate
    lines = (
        ("material", estimate.material),
        ("labour", estimate.labour),
        ("overhead", estimate.overhead),
        ("tax", estimate.tax),
        ("total-sample" if bench.plan.shop.is_sample else "total", estimate.total),
    )
    return Listing(
        code="price",
        fields=(
            Field(code="part"),
            Field(code="low", kind=Kind.MONEY),
            Field(code="high", kind=Kind.MONEY),
            Field(code="currency"),
        ),
        rows=tuple((bench.say(f"sheet-price.{name}"), *_ends(money), estimate.currency) for name, money in lines),
    )


def _ends(money: Money) -> tuple[Decimal, Decimal]:
    return money.low, money.high
