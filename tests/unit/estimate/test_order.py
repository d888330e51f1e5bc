"""The order: sticks, boxes, litres, footings, hangers, and what has no price."""

from __future__ import annotations

import math
import sys
from decimal import Decimal
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from estimate_factory import fixing_item, make_built, make_job, make_shop, price, replace, section, stick

from evenfoot.checks import Verdict
from evenfoot.errors import OutOfRangeError
from evenfoot.estimate import price_job
from evenfoot.frame import JointKind
from evenfoot.job import kinds
from evenfoot.words import Language, Speaker


def lines(estimate, kind: str):
    return [line for line in estimate.order if line.kind == kind]


def test_sticks_of_one_section_and_length_stand_in_one_line():
    sticks = (
        stick(4000.0, "3100", 1200.0, high="3300"),
        stick(3000.0, "2300", 2900.0),
        stick(4000.0, "3150", 3900.0, high="3400"),
    )
    job = make_job()
    estimate = price_job(job, make_shop(), make_built(job, section(*sticks, label="105角", rough_depth=110.0)))
    short, long = lines(estimate, "timber")
    assert (short.length, short.quantity, short.price.low, short.price.high) == (3000.0, 1, 2300, 2300)
    assert (long.length, long.quantity, long.price.low, long.price.high) == (4000.0, 2, 6250, 6700)
    assert (long.section, long.label, long.look, long.unit) == ((90.0, 110.0), "105角", kinds.Look.COMMON, "piece")


def test_what_comes_from_the_rack_is_not_ordered_but_costs_its_value():
    job = make_job()
    estimate = price_job(job, make_shop(), make_built(job, section(stick(1810.0, "400", 900.0, source="rack"))))
    assert not lines(estimate, "timber")
    (rack,) = lines(estimate, "rack")
    assert (rack.quantity, rack.price.low, rack.section) == (1, 400, (90.0, 105.0))


def test_boxes_hold_every_screw_that_is_drawn():
    job = make_job()
    built = make_built(job)
    estimate = price_job(job, make_shop(), built)
    count = sum(f.count for f in estimate.fixings if f.mark == "4.2x65")
    (line,) = [x for x in lines(estimate, "fixing") if x.label == "4.2x65"]
    assert count == 2 * built.layout.screws
    assert (line.quantity, line.unit) == (math.ceil(count / 300), "box")
    assert line.price.low == line.price.high == 2480 * line.quantity


def test_one_mark_in_two_uses_is_boxed_together():
    job = make_job()
    shop = make_shop(fixings=(fixing_item("4.5x90", 50, "1900"),))
    estimate = price_job(job, shop, make_built(job))
    uses = [f for f in estimate.fixings if f.mark == "4.5x90"]
    assert {f.use for f in uses} == {"lap", "post-head"}
    (line,) = [x for x in lines(estimate, "fixing") if x.label == "4.5x90"]
    assert line.quantity == math.ceil(sum(f.count for f in uses) / 50)


def test_a_price_by_the_piece_still_buys_whole_boxes():
    job = make_job()
    shop = make_shop(fixings=(fixing_item("4.2x65", 300, "9", by="piece"),))
    estimate = price_job(job, shop, make_built(job))
    (line,) = [x for x in lines(estimate, "fixing") if x.label == "4.2x65"]
    assert line.price.low == 9 * 300 * line.quantity


def test_a_box_of_nothing_is_refused():
    job = make_job()
    with pytest.raises(OutOfRangeError) as caught:
        price_job(job, make_shop(fixings=(fixing_item("4.2x65", 0, "100"),)), make_built(job))
    fault = caught.value.fault
    assert (fault.where, fault.code, fault.found) == ("fixings[4.2x65].per_box", "box-of-none", "0")


def test_a_fixing_without_a_price_is_said_and_never_free():
    job = make_job()
    estimate = price_job(job, make_shop(fixings=()), make_built(job))
    unpriced = [line for line in estimate.order if not line.is_priced]
    missing = [c for c in estimate.checks if c.rule == "price-missing"]
    assert len(unpriced) == len(missing) == len(lines(estimate, "fixing"))
    assert all(c.verdict is Verdict.NOT_CHECKED for c in missing)
    assert any("4.2x65 × 396" in Speaker(Language.JAPANESE).check(c) for c in missing)


def test_finish_is_bought_in_whole_litres():
    job = make_job()
    estimate = price_job(job, make_shop(), make_built(job))
    (line,) = lines(estimate, "coating")
    low, high = (sum(getattr(c, name) for c in estimate.coats) for name in ("litres_low", "litres_high"))
    assert (line.quantity, line.label, line.unit) == (math.ceil(high), "finish.penetrating", "litre")
    assert (line.price.low, line.price.high) == (2310 * math.ceil(low), 2750 * math.ceil(high))


def test_no_finish_is_not_ordered():
    job = make_job(finish="none")
    assert not lines(price_job(job, make_shop(), make_built(job)), "coating")


def test_every_post_gets_a_footing():
    job = make_job()
    built = make_built(job)
    (line,) = lines(price_job(job, make_shop(), built), "footing")
    assert (line.quantity, line.label) == (len(built.posts.cuts), "footing.stone")
    assert (line.price.low, line.price.high) == (900 * line.quantity, 1250 * line.quantity)


def test_every_hanger_joint_gets_a_hanger_and_its_missing_price_is_said():
    job = make_job(style="hung", joint="hanger", joist=(45.0, 105.0))
    built = make_built(job)
    estimate = price_job(job, make_shop(), built)
    (line,) = lines(estimate, "hanger")
    assert line.quantity == sum(j.kind is JointKind.HANGER for j in built.frame.joints) > 0
    assert not line.is_priced
    assert "hanger" in [c.subject for c in estimate.checks if c.rule == "price-missing"]
    shop = make_shop(fixings=(*make_shop().fixings, fixing_item("hanger", 10, "3200")))
    (line,) = lines(price_job(job, shop, built), "hanger")
    assert line.is_priced
    assert line.price.low == 3200 * math.ceil(sum(j.kind is JointKind.HANGER for j in built.frame.joints) / 10)


@pytest.mark.parametrize(("field", "kind"), [("coating", "coating"), ("footing", "footing")])
def test_a_price_of_nothing_is_no_price(field, kind):
    job = make_job()
    estimate = price_job(job, make_shop(**{field: price("0")}), make_built(job))
    assert [line.is_priced for line in lines(estimate, kind)] == [False]
    assert kind in [c.subject for c in estimate.checks if c.rule == "price-missing"]


def test_a_stick_without_a_price_is_named_by_its_section():
    job = make_job()
    estimate = price_job(job, make_shop(), make_built(job, section(stick(3000.0, "0", 500.0))))
    said = [Speaker().check(c) for c in estimate.checks if c.rule == "price-missing" and c.subject == "timber"]
    assert len(said) == 1
    assert "90x105 × 1" in said[0]
    assert lines(estimate, "timber")[0].price.high == Decimal(0)


def test_a_post_that_does_not_fit_gets_no_footing_no_work_and_no_finish():
    job = make_job()
    built = make_built(job)
    first, *others = built.posts.cuts
    without = replace(built, posts=replace(built.posts, cuts=(replace(first, length=-40.0, rough_length=0.0), *others)))
    before, after = price_job(job, make_shop(), built), price_job(job, make_shop(), without)
    assert lines(before, "footing")[0].quantity == len(others) + 1
    assert lines(after, "footing")[0].quantity == len(others)
    done = {w.task: w.quantity for w in after.work}
    assert (done["footing"], done["post-seat"]) == (len(others), len(others))
    assert sum(c.area for c in after.coats) < sum(c.area for c in before.coats)
