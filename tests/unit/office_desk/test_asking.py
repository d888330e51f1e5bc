"""What is asked on site from the page answers as the command does, and names fields where the command names options."""

import re
import string

import pytest

from evenfoot.errors import EvenfootError
from evenfoot.job import files
from evenfoot.office.desk import Desk, Question, Texts, ask_on_site, example_job
from evenfoot.words import ON_PAGE, Language, Speaker, catalogue

OPTION = re.compile(r"--\w")
ON_THE_COMMAND = ("cli.", "setting.lines.", "setting.posts.odds", "pack-instead.", "page-instead.")
"""Groups that are said on the command alone, or that are themselves said instead."""
TERRACE = example_job("library-terrace")


def test_whatever_names_an_option_has_words_of_its_own_for_the_page():
    named = {code for code, entry in catalogue().items() if any(OPTION.search(text) for text in entry.values())}
    wanting = {c for c in named if f"{ON_PAGE}{c}" not in catalogue() and not c.startswith(ON_THE_COMMAND)}
    assert wanting == set()


def test_no_finding_on_the_page_names_a_key_of_the_file():
    """A remedy that names a key has words of its own; the sentences of the command keep theirs."""
    keys = files.key_facts()
    named = {
        code
        for code, entry in catalogue().items()
        if code.startswith(("remedy.", "check.", "reason."))
        and any(found in keys for text in entry.values() for found in re.findall(r"[a-z_]+(?:\.[a-z_]+)+", text))
    }
    assert named
    assert {code for code in named if f"{ON_PAGE}{code}" not in catalogue()} == set()


def test_what_is_said_instead_names_no_option_and_asks_for_no_other_facts():
    for code, entry in catalogue().items():
        if code.startswith(ON_PAGE):
            own, other = (wanted(one["en"]) for one in (entry, catalogue()[code.removeprefix(ON_PAGE)]))
            assert own <= other, code
            assert not any(OPTION.search(text) for text in entry.values()), code


def wanted(text):
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


def posts():
    return [cut.mark for cut in Desk().plan(0, TERRACE).posts.cuts]


def asked(what, language, *, log=(), is_sure=True, **typed):
    pairs = {name: tuple(one.items()) for name, one in typed.items()}
    texts = Texts(job=TERRACE.job, shop=TERRACE.shop, log=tuple(log))
    return ask_on_site(texts, Question(what=what, typed=pairs, is_sure=is_sure), language)


def said(what, language, **typed):
    """Every sentence of an answer, or of the faults that it met."""
    try:
        found = asked(what, language, **typed)
    except EvenfootError as error:
        return [Speaker(language, instead=(ON_PAGE,)).fault(fault) for fault in error.faults]
    return [*found.lines, *found.detail]


READINGS = [
    (
        "square",
        {"sides": {"1": "3600", "2": "2700", "3": "3603", "4": "2700"}, "diagonals": {"1": "4500", "2": "4506"}},
    ),
    ("square", {"sides": {"1": "36"}, "is_sure": False}),
    ("square", {}),
    ("level", {}),
    ("level", {"rods": {"A1": "900", "C1": "903", "E1": "910"}}),
    ("level", {"rods": {"A1": "tall"}}),
    ("posts", {}),
    ("posts", {"gaps": {"A1": "9000"}, "is_sure": False}),
    ("posts", {"gaps": {"A1": "355"}, "jacks": {"A1": "x"}}),
    ("posts", {"stands": {"A1": "x"}, "hangs": {"C1": "1"}}),
    ("posts", {"gaps": {"ZZ9": "300"}}),
    ("boards", {"edges": {"1": "104"}, "widths": {"1": "104.5"}}),
    ("boards", {"edges": {"": "104"}}),
    ("boards", {"edges": {"400": "104"}}),
    ("boards", {"moistures": {"1": "18.5 %"}}),
    ("boards", {"moistures": {"1": "wet"}}),
]


@pytest.mark.slow
@pytest.mark.parametrize("language", list(Language))
@pytest.mark.parametrize(("what", "typed"), READINGS)
def test_no_answer_on_the_page_names_an_option_of_a_command(what, typed, language):
    told = said(what, language, **typed)
    assert told
    assert not [text for text in told if OPTION.search(text)]
    if language is Language.JAPANESE:
        assert not [text for text in told if re.search(r"typed|square|level\b|posts|boards", text)]


@pytest.mark.slow
@pytest.mark.parametrize("language", list(Language))
def test_when_all_posts_are_cut_the_answer_names_no_option(language):
    marks = posts()
    cuts = dict.fromkeys(marks, "350")
    told = said("posts", language, gaps=dict.fromkeys(marks, "351"), cuts=cuts | {marks[0]: "352.5"})
    assert len(told) > 3
    assert not [text for text in told if OPTION.search(text)]


@pytest.mark.slow
def test_a_doubted_reading_stands_at_its_field():
    with pytest.raises(EvenfootError) as met:
        asked("posts", Language.JAPANESE, gaps={"い1": "9000"}, is_sure=False)
    assert met.value.fault.where == "typed.gaps.A1"
    text = Speaker(Language.JAPANESE, instead=(ON_PAGE,)).fault(met.value.fault)
    assert text.startswith("い1の内法：")
    assert "下のボタン" in text


@pytest.mark.slow
def test_moisture_read_at_a_board_is_kept_in_the_log():
    found = asked("boards", Language.ENGLISH, edges={"2": "225"}, moistures={"2": "21"})
    assert any('"moisture"' in line and "21" in line for line in found.new_lines)
