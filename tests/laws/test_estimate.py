"""Laws of any estimate: it equals what is drawn, its sums close, and more work never costs less."""

from __future__ import annotations

import sys
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box

sys.path.insert(0, str(Path(__file__).parents[1] / "unit" / "estimate"))
from estimate_factory import fixing_item, make_built, make_job, make_shop, price, replace, section, stick

from evenfoot.checks import Verdict
from evenfoot.estimate import price_job
from evenfoot.estimate.coats import coat_lines
from evenfoot.estimate.faces import Faces, find_faces, member_faces, total_faces
from evenfoot.estimate.fixing.choice import Wish, board_length, for_boards, for_clamp
from evenfoot.estimate.fixing.distances import How, Setting, bare, bored, fit
from evenfoot.frame import JointKind, Mark, Member, Role
from evenfoot.job import kinds
from evenfoot.joints import Cut, CutKind, Face
from evenfoot.layout import Axis

LAPS = (JointKind.LAP_OVER, JointKind.LAP_UNDER)
USES = {
    JointKind.BEARING: "bearing",
    JointKind.HOUSING: "housing",
    JointKind.BUTT: "butt",
    JointKind.POST_HEAD: "post-head",
}
jobs = st.builds(
    lambda style, size, standard, direction, coats: make_job(
        style=style[0],
        joint=style[1],
        post_joist="lap-under" if style[1] == "lap-over" else style[1],
        size=(float(size[0]), float(size[1])),
        standard=standard,
        direction_deg=direction,
        coats=coats,
        joist=(45.0, 105.0),
    ),
    st.sampled_from(
        [("flush", "lap-over"), ("flush", "housing"), ("flush", "butt"), ("stacked", "bearing"), ("hung", "hanger")]
    ),
    st.tuples(st.integers(1500, 7000), st.integers(1200, 4000)),
    st.sampled_from(["japan", "europe", "north-america"]),
    st.sampled_from([0.0, 90.0, 30.0]),
    st.integers(0, 4),
)
moneys = st.decimals(min_value=0, max_value=9999, places=3)
lengths = st.floats(10.0, 400.0)


@given(jobs)
@settings(max_examples=25, deadline=None)
def test_fixings_are_as_many_as_what_is_drawn_asks(job):
    built = make_built(job)
    estimate = price_job(job, make_shop(), built)
    crossings: dict[str, int] = {}
    for fixing in estimate.fixings:
        assert fixing.count == fixing.per_crossing * fixing.crossings
        crossings[fixing.use] = crossings.get(fixing.use, 0) + fixing.crossings
    kinds_drawn = [j.kind for j in built.frame.joints]
    wanted = {"board-joist": built.layout.screws, "lap": sum(k in LAPS for k in kinds_drawn)}
    wanted |= {use: kinds_drawn.count(kind) for kind, use in USES.items()}
    wanted["block"] = 2 * sum(m.role is Role.BLOCK for m in built.frame.members)
    assert crossings == {use: n for use, n in wanted.items() if n}


@given(jobs)
@settings(max_examples=25, deadline=None)
def test_every_crossing_of_straight_boards_has_exactly_one_verdict(job):
    built = make_built(job)
    checks = [c for c in price_job(job, make_shop(), built).checks if c.rule.startswith("board-screws")]
    if job.floor.board.direction_deg == 30.0:
        assert [c.verdict for c in checks] == [Verdict.NOT_CHECKED]
    else:
        assert sum(int(c.fact("count")) for c in checks) == built.layout.screws
        for c in checks:
            assert (c.demand <= c.capacity) is (c.verdict is Verdict.OK)


@given(jobs, moneys, moneys, moneys, moneys)
@settings(max_examples=25, deadline=None)
def test_sums_close_to_the_last_coin(job, hour, litre, footing, wood):
    shop = make_shop(
        currency="EUR",
        hour=price(str(hour), str(hour + 3), "hour"),
        coating=price(str(litre), str(litre + 1), "litre"),
        footing=price(str(footing)),
    )
    estimate = price_job(job, shop, make_built(job, section(stick(3000.0, str(wood), 700.0))))
    for end in ("low", "high"):
        parts = [getattr(x, end) for x in (estimate.material, estimate.labour, estimate.overhead, estimate.tax)]
        assert sum((getattr(line.price, end) for line in estimate.order), Decimal(0)) == parts[0]
        assert sum(parts) == getattr(estimate.total, end)
    assert estimate.total.low <= estimate.total.high


@given(jobs, st.sampled_from(["hour", "coating", "footing", "overhead", "tax", "fixing", "rate"]))
@settings(max_examples=25, deadline=None)
def test_a_dearer_thing_never_makes_a_cheaper_job(job, what):
    shop = make_shop(rates=(("screw", 0.012), ("half-lap", 0.4)))
    if what in ("hour", "coating", "footing"):
        dear = replace(shop, **{what: replace(getattr(shop, what), high=getattr(shop, what).high * 2)})
    elif what in ("overhead", "tax"):
        dear = replace(shop, **{what: getattr(shop, what) * 2})
    elif what == "rate":
        dear = replace(shop, rates=(("screw", 0.02), ("half-lap", 0.5)))
    else:
        dear = replace(shop, fixings=tuple(fixing_item(f.mark, f.per_box, "9999") for f in shop.fixings))
    built = make_built(job)
    cheap_total, dear_total = (price_job(job, s, built).total for s in (shop, dear))
    assert dear_total.high >= cheap_total.high
    assert dear_total.low >= cheap_total.low


@given(st.integers(1500, 5000), st.integers(1300, 3000), st.integers(10, 1500))
@settings(max_examples=20, deadline=None)
def test_a_deeper_floor_takes_no_less_of_anything(width, depth, more):
    small, large = (make_job(size=(float(width), float(d))) for d in (depth, depth + more))
    totals = []
    for job in (small, large):
        built = make_built(job)
        estimate = price_job(job, make_shop(), built)
        hours = {w.task: w.typical for w in estimate.work}
        totals.append(
            (
                built.layout.screws,
                sum(c.area for c in estimate.coats),
                sum(c.litres_high for c in estimate.coats),
                hours["lay-boards"],
                hours["screw"],
                hours["frame-joist"],
            )
        )
    assert all(b >= a - 1e-9 for a, b in zip(*totals, strict=True))


@given(jobs)
@settings(max_examples=20, deadline=None)
def test_coated_area_is_that_of_all_faces(job):
    built = make_built(job)
    faces = total_faces(find_faces(job, built))
    coats = coat_lines(job, faces)
    if job.finish.coats:
        first = [c for c in coats if c.coat == 1]
        assert sum(c.area for c in first) == pytest.approx(faces.whole / 1e6, rel=1e-12)
    else:
        assert coats == ()


@given(st.floats(0, 1e9), st.floats(0, 1e9), st.floats(0, 1e9), st.floats(0, 1e9), st.integers(1, 5), st.booleans())
@settings(max_examples=60, deadline=None)
def test_one_coat_more_never_takes_less(hidden, joint, seen, end, coats, is_first):
    faces = Faces(hidden=hidden, joint=joint, seen=seen, end=end)
    less, more = (make_job(coats=n, hidden_first=is_first) for n in (coats, coats + 1))
    low, high = (sum(c.litres_low for c in coat_lines(job, faces)) for job in (less, more))
    assert high >= low


@given(
    st.tuples(st.floats(30, 120), st.floats(60, 240), st.floats(900, 6000)),
    st.lists(st.tuples(st.booleans(), st.floats(0.0, 1.0), st.floats(0.1, 0.9)), max_size=5),
)
@settings(max_examples=80, deadline=None)
def test_any_lapped_timber_has_the_surface_of_its_prism(size, wishes):
    width, depth, length = size
    m = Member(
        mark=Mark("A1-3"),
        role=Role.BEAM,
        axis=Axis.X,
        line="1",
        start=(0.0, 0.0, 0.0),
        end=(length, 0.0, 0.0),
        width=width,
        depth=depth,
        length=length,
        species="sugi",
        look=kinds.Look.COMMON,
        strength_grade="ungraded",
        is_seen=False,
        where="",
    )
    profile, cuts, bay = box(0, 0, length, depth), [], length / max(1, len(wishes))
    for number, (is_top, place, share) in enumerate(wishes):
        begin = number * bay + place * bay / 2 if place > 0.2 else number * bay
        finish, deep = begin + bay / 3, share * depth
        if number and begin == number * bay:
            begin, finish = begin + 1.0, finish + 1.0
        low, high = (depth - deep, depth + 1.0) if is_top else (-1.0, deep)
        profile = profile.difference(box(begin or -1.0, low, finish, high))
        cuts.append(
            Cut(
                member=m.mark,
                kind=CutKind.LAP,
                face=Face.TOP if is_top else Face.BOTTOM,
                begin=begin,
                finish=finish,
                depth=deep,
                height=0.0,
                angle_deg=0.0,
                joint="",
            )
        )
    assert member_faces(m, cuts).whole == pytest.approx(2 * profile.area + profile.length * width, rel=1e-9)


@given(st.floats(12, 70), st.floats(300, 1100), st.sampled_from(list(kinds.Standard)))
@settings(max_examples=80, deadline=None)
def test_a_board_fixing_is_long_enough_and_the_thicker_board_never_gets_a_shorter_one(board, density, standard):
    wish = Wish(standard=standard, density=density, longest=1e9)
    one = for_boards(wish, board, make_shop(fixings=()))
    if one is None:
        assert board > 60
        return
    assert one.length >= board_length(board, one, standard) >= board + 20 * one.kind.is_screw
    thicker = for_boards(replace(wish, standard=kinds.Standard.EUROPE), board + 1.0, make_shop(fixings=()))
    same = for_boards(replace(wish, standard=kinds.Standard.EUROPE), board, make_shop(fixings=()))
    assert thicker is None or same is None or thicker.length >= same.length


@given(lengths, lengths, st.floats(300, 1100))
@settings(max_examples=80, deadline=None)
def test_a_clamp_ends_inside_the_lower_tongue(upper, lower, density):
    wish = Wish(standard=kinds.Standard.JAPAN, density=density, longest=1e9)
    one = for_clamp(wish, upper, lower, make_shop())
    if one is not None:
        assert upper + 6 * one.shank <= one.length < upper + lower


@given(st.floats(2.0, 7.0), st.floats(300, 1100), st.sampled_from(list(kinds.Standard)), st.floats(1.0, 300.0))
@settings(max_examples=80, deadline=None)
def test_boring_never_asks_for_more_room_and_more_room_never_fits_worse(shank, density, standard, room):
    setting = Setting(standard=standard, shank=shank, density=density, is_density_confirmed=True)
    plain, holes = bare(setting), bored(setting)
    if plain is not None and holes is not None:
        assert (holes.end, holes.edge, holes.along, holes.across) <= (plain.end, plain.edge, plain.along, plain.across)
        assert holes.across <= plain.across
    tight, wide = (fit(setting, lambda d, r=r: (d.end, r)) for r in (room, room + 7.0))
    assert wide.how <= tight.how
    assert (tight.demand <= tight.capacity) is (tight.how is not How.NOT)
