"""What a job says of holding, ground, makers' values, guards, ledgers and heavy things."""

from __future__ import annotations

import pytest

from evenfoot.errors import JobFileError
from evenfoot.job import kinds, parse_job
from evenfoot.units import parse_pressure

LEAST = """
unit = "mm"
standard = "japan"
[site]
levels = [[0, 100, -450], [3600, 120, -462], [20, 2600, -481]]
{site}
[floor]
width = 3600
depth = 2700
"""


def job(text="", site=""):
    return parse_job(LEAST.format(site=site) + text)


def only_fault(text="", site=""):
    with pytest.raises(JobFileError) as raised:
        job(text, site)
    (fault,) = raised.value.faults
    return fault


def test_what_is_not_typed_is_not_said():
    bare = job()
    assert (bare.frame.held.along, bare.frame.held.out, bare.frame.held.each) == (None, None, None)
    assert (bare.site.soil, bare.site.bearing, bare.guard, bare.frame.ledger) == (None, None, None, None)
    assert bare.makers.hanger is None
    assert bare.loads.heavy == ()
    assert bare.loads.roof_snow is None


def test_what_holds_the_floor_is_read_both_ways():
    held = job(
        '[frame.held]\nalong = "braces"\nout = "building"\npieces_out = 4\neach = "2 kN"\nfriction = 0.3'
    ).frame.held
    assert (held.along, held.out) == (kinds.Holding.BRACES, kinds.Holding.BUILDING)
    assert (held.pieces_along, held.pieces_out, held.each, held.friction) == (None, 4, 2000.0, 0.3)


def test_another_word_for_holding_is_refused_with_the_nearest():
    fault = only_fault('[frame.held]\nalong = "low-rail"')
    assert (fault.code, fault.where, fault.nearest) == ("not-a-choice", "frame.held.along", "low-rails")


def test_ground_values_and_pressures_are_read_in_their_units():
    site = job(site='soil = "stiff-loam"\nbearing = "1500 psf"').site
    assert site.soil is kinds.Soil.STIFF_LOAM
    assert site.bearing == pytest.approx(0.07182, rel=1e-4)
    assert job(site="bearing = 50").site.bearing == pytest.approx(0.05, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "newtons_per_mm2"),
    [("50 kPa", 0.05), ("50 kN/m2", 0.05), ("600 N/m²", 0.0006), ("2 MPa", 2.0), ("1 N/mm2", 1.0), ("0.5", 0.0005)],
)
def test_pressures_are_read_in_every_unit(text, newtons_per_mm2):
    assert float(parse_pressure(text)) == pytest.approx(newtons_per_mm2, rel=1e-12)


def test_a_pressure_that_cannot_be_read_is_refused_with_what_can():
    fault = only_fault(site='bearing = "50 tons"')
    assert (fault.code, fault.where) == ("pressure-unread", "site.bearing")
    assert "kPa" in fault.allowed
    fault = only_fault(site="bearing = 20000")
    assert (fault.code, fault.nearest) == ("too-large", "10000 kN/m2")


def test_makers_values_a_guard_and_a_ledger_are_read():
    text = """
[makers]
hanger = "5.2 kN"
post_foot = 1800
[frame.ledger]
fixing = "half-inch-bolts"
spacing = 600
end = 75
[guard]
height = 1100
spacing = 1200
width = 90
depth = 90
species = "hinoki"
strength_grade = "ungraded"
lever = 120
top_fixing = 60
"""
    read = job(text)
    assert (read.makers.hanger, read.makers.post_foot, read.makers.splice) == (5200.0, 1800.0, None)
    assert read.frame.ledger.fixing is kinds.LedgerFixing.BOLT_HALF
    assert (read.frame.ledger.spacing, read.frame.ledger.end) == (600.0, 75.0)
    assert (read.guard.height, read.guard.lever, read.guard.top_fixing, read.guard.push) == (1100.0, 120.0, 60.0, None)


TUB = '[[loads.heavy]]\nname = "tub"\nx = {x}\ny = 400\nwidth = 1800\ndepth = 1800\nweight = "900 kg"\n'


def test_a_heavy_thing_is_read_with_its_weight():
    (tub,) = job(TUB.format(x=900)).loads.heavy
    assert (tub.x, tub.y, tub.width, tub.depth) == (900.0, 400.0, 1800.0, 1800.0)
    assert tub.weight == pytest.approx(900 * 9.80665, rel=1e-12)


def test_a_heavy_thing_beyond_the_floor_is_refused_with_where_it_fits():
    fault = only_fault(TUB.format(x=2000))
    assert (fault.code, fault.where, fault.nearest) == ("heavy-off-floor", "loads.heavy[0].x", "1800 mm")
    assert fault.found == "2000 mm … 3800 mm"


def test_a_european_job_is_a_balcony_until_it_says_otherwise():
    europe = parse_job(LEAST.format(site="").replace("japan", "europe"))
    assert europe.loads.use is kinds.Use.BALCONY
    assert job().loads.use is kinds.Use.DWELLING
