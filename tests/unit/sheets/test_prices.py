"""Sample prices are told wherever a price stands, and only then."""

from dataclasses import replace

from evenfoot.ink import Pen, Text
from evenfoot.ink.expand import flat
from evenfoot.sheets import drawings
from evenfoot.words import Language, Speaker

WITH_PRICES = ("cover", "order", "price")


def _told(pages, words):
    """Codes of the sheets on which the words stand, boldly and in vermilion."""
    return [
        p.code
        for p in pages
        if any(isinstance(t, Text) and words in t.text and t.is_bold and t.pen is Pen.ALARM for t in flat(p))
    ]


def test_sheets_with_prices_say_that_they_are_samples(plan_of, pages_of, job, language):
    assert plan_of(job).shop.is_sample
    words = "Sample prices" if language == "en" else "見本の単価"
    told = {code.rsplit("-", 1)[0] for code in _told(pages_of(job, language), words)}
    assert told == set(WITH_PRICES)


def test_the_prices_of_a_shop_are_not_called_samples(plan_of):
    plan = plan_of("side-door-landing")
    own = replace(plan, shop=replace(plan.shop, is_sample=False))
    pages = drawings(own, Speaker(Language.ENGLISH), "A3")
    assert not [t for p in pages for t in flat(p) if isinstance(t, Text) and "ample price" in t.text]


def test_the_first_sheet_counts_findings_as_the_banner_does(plan_of, pages_of, job):
    texts = [t.text for t in flat(pages_of(job)[0]) if isinstance(t, Text)]
    count = sum(c.verdict.value != "ok" for c in plan_of(job).checks)
    assert any(f"({count} findings)" in t for t in texts)
    assert any(t.startswith(f"Still open: {count} findings of") for t in texts)
