"""Who may come in: names and passphrases, roles, sessions, phones."""

from __future__ import annotations

import logging
import subprocess
import sys
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from argon2 import PasswordHasher
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from evenfoot.errors import EvenfootError, OutOfRangeError, RefusedError, StoreError
from evenfoot.office import people
from evenfoot.office.people import sealed
from evenfoot.store import Role, Store

WORDS = "plane chalk heron seven"
OTHER = "gimlet tide paper nine"
DESK = "127.0.0.1"


class Clock:
    def __init__(self):
        self.at = datetime(2026, 5, 11, 8, 0, tzinfo=UTC)

    def __call__(self):
        return self.at


@pytest.fixture(autouse=True)
def quick_hashes(request, monkeypatch):
    """Hash as we ship only where the test is about that; elsewhere the same kind of hash, small."""
    sealed.nobodys_hash.cache_clear()
    if "hash" not in request.node.name:
        monkeypatch.setattr(sealed, "_hasher", lambda: PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
    yield
    sealed.nobodys_hash.cache_clear()


@pytest.fixture
def clock():
    return Clock()


@pytest.fixture
def store(tmp_path, clock):
    found = Store(f"sqlite:///{tmp_path / 'jobs.db'}", clock=clock)
    yield found
    found.close()


@pytest.fixture
def owner(store):
    entry = people.open_first(store, name="Aya", passphrase=WORDS)
    return people.visitor_of(store, entry.token)


def enter(store, name, passphrase=WORDS, address=DESK):
    return people.visitor_of(store, people.sign_in(store, name=name, passphrase=passphrase, address=address).token)


def refusal(ask, *args, **kwargs):
    with pytest.raises(EvenfootError) as caught:
        ask(*args, **kwargs)
    return caught.value.fault.code


def test_what_each_role_may_do_is_one_table():
    table = {(role.value, action.value): people.may(role, action) for role in people.Role for action in people.Action}
    assert {pair for pair, is_allowed in table.items() if is_allowed} == {
        ("owner", "read"),
        ("owner", "log"),
        ("owner", "pair"),
        ("owner", "edit"),
        ("owner", "people"),
        ("crew", "read"),
        ("crew", "log"),
        ("crew", "pair"),
        ("viewer", "read"),
        ("viewer", "pair"),
    }


def test_the_table_is_told_as_it_is():
    lines = (Path(__file__).parents[3] / "docs" / "people.md").read_text(encoding="utf-8").splitlines()
    at = lines.index("| role | read | log | pair | edit | people |")
    for line in lines[at + 2 : at + 5]:
        role, *told = (cell.strip() for cell in line.strip("|").split("|"))
        for action, word in zip(("read", "log", "pair", "edit", "people"), told, strict=True):
            assert people.may(people.Role(role), people.Action(action)) is (word == "yes")


def test_a_refusal_names_the_roles_that_may():
    people.check(Role.CREW, people.Action.LOG)
    with pytest.raises(RefusedError) as caught:
        people.check(Role.VIEWER, people.Action.LOG)
    assert (caught.value.fault.code, caught.value.fault.found, caught.value.fault.allowed) == (
        "not-allowed",
        "viewer",
        "owner, crew",
    )


def test_the_first_owner_opens_the_list_once(store):
    assert not people.has_people(store)
    entry = people.open_first(store, name="  Aya  Mori ", passphrase=WORDS)
    assert people.has_people(store)
    visitor = people.visitor_of(store, entry.token)
    assert visitor is not None
    assert (visitor.name, visitor.role) == ("Aya Mori", Role.OWNER)
    assert refusal(people.open_first, store, name="Eve", passphrase=WORDS) == "people-opened"


def test_one_comes_in_by_the_right_passphrase_only(store, owner):
    assert enter(store, "Aya").name == "Aya"
    assert enter(store, "ＡＹＡ", "ｐｌａｎｅ chalk heron seven").name == "Aya"
    assert refusal(people.sign_in, store, name="Aya", passphrase=OTHER, address=DESK) == "sign-in-wrong"
    assert refusal(people.sign_in, store, name="Nobody", passphrase=WORDS, address=DESK) == "sign-in-wrong"
    assert refusal(people.sign_in, store, name="Aya", passphrase="x" * 10_000, address=DESK) == "sign-in-wrong"


def test_a_wrong_name_costs_a_whole_hash_too(store, owner, monkeypatch):
    """Otherwise the clock would tell which names there are."""
    asked = []
    monkeypatch.setattr(sealed, "is_right", lambda _words, kept: asked.append(kept))
    for name in ("Aya", "Nobody"):
        refusal(people.sign_in, store, name=name, passphrase=WORDS, address=DESK)
    assert [kept.split("$")[1:4] for kept in asked] == [["argon2id", "v=19", "m=65536,t=3,p=4"]] * 2


def test_signing_out_ends_the_session(store, owner):
    entry = people.sign_in(store, name="Aya", passphrase=WORDS, address=DESK)
    people.sign_out(store, people.visitor_of(store, entry.token))
    assert people.visitor_of(store, entry.token) is None
    people.sign_out(store, people.AT_THE_MACHINE)  # nothing to end


def test_wrong_tries_are_stopped_for_a_while_at_one_address_only(store, owner, clock):
    for _ in range(5):
        assert refusal(people.sign_in, store, name="Aya", passphrase=OTHER, address="10.0.0.9") == "sign-in-wrong"
    assert refusal(people.sign_in, store, name="Aya", passphrase=WORDS, address="10.0.0.9") == "tries-too-many"
    assert enter(store, "Aya", address=DESK).name == "Aya"
    clock.at += timedelta(minutes=15, seconds=1)
    assert enter(store, "Aya", address="10.0.0.9").name == "Aya"


def test_one_name_is_not_tried_from_many_addresses_for_ever(store, owner, monkeypatch):
    monkeypatch.setattr(sealed, "is_right", lambda _words, _kept: False)
    told = [refusal(people.sign_in, store, name="Aya", passphrase="-", address=f"10.0.0.{k}") for k in range(52)]
    assert told == ["sign-in-wrong"] * 50 + ["tries-too-many"] * 2


def test_one_address_does_not_try_many_names_for_ever(store, owner, monkeypatch):
    """Each try costs a whole hash, of a wrong name too: nobody keeps the machine busy with them."""
    monkeypatch.setattr(sealed, "is_right", lambda _words, _kept: False)
    told = [refusal(people.sign_in, store, name=f"n{k}", passphrase="-", address="10.0.0.9") for k in range(32)]
    assert told == ["sign-in-wrong"] * 30 + ["tries-too-many"] * 2


def test_many_tries_at_once_gain_nothing(store, owner):
    told = []
    work = lambda: told.append(refusal(people.sign_in, store, name="Aya", passphrase=OTHER, address="x"))  # noqa: E731
    threads = [threading.Thread(target=work) for _ in range(9)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(told) == ["sign-in-wrong"] * 5 + ["tries-too-many"] * 4


@pytest.mark.parametrize(("words", "code"), [("a" * 9, "passphrase-short"), ("a" * 201, "passphrase-long")])
def test_a_passphrase_has_a_least_and_a_most_length(words, code):
    assert refusal(sealed.hash_of, words) == code


def test_a_passphrase_at_either_limit_is_taken():
    for words in ("a" * 10, "字" * 200):
        assert sealed.is_right(words, sealed.hash_of(words))


def test_hashes_of_one_passphrase_differ():
    assert sealed.hash_of(WORDS) != sealed.hash_of(WORDS)


@pytest.mark.parametrize("kept", ["", "x", "$argon2id$v=19$m=65536,t=3,p=4$bad", "$2b$12$abc"])
def test_a_damaged_hash_fits_nothing(kept):
    assert not sealed.is_right(WORDS, kept)


@pytest.mark.parametrize("text", ["Aya\0", "\ud800", "Aya\udfff"])
def test_what_cannot_be_written_is_nobodys_name_and_no_passphrase(store, owner, text):
    assert refusal(people.sign_in, store, name=text, passphrase=WORDS, address=DESK) == "sign-in-wrong"
    assert refusal(people.sign_in, store, name="Aya", passphrase=text, address=DESK) == "sign-in-wrong"
    assert people.visitor_of(store, text) is None


@pytest.mark.parametrize("name", ["", "   ", "x" * 61, "a\x07b", "a\x00b", "\u202eAya"])
def test_a_name_is_short_and_can_be_seen(store, owner, name):
    found = refusal(people.add_person, store, owner, name=name, role="crew", passphrase=WORDS)
    assert found == "name-wrong"


def test_owners_keep_the_list(store, owner):
    ben = people.add_person(store, owner, name="Ben", role="crew", passphrase=OTHER)
    visitor = enter(store, "Ben", OTHER)
    assert visitor.role is Role.CREW
    people.change_role(store, owner, ben.number, role="owner")
    assert enter(store, "Ben", OTHER).role is Role.OWNER
    people.rename_person(store, owner, ben.number, name="Benkei")
    people.give_passphrase(store, owner, ben.number, new=WORDS)
    assert enter(store, "Benkei").person.number == ben.number
    people.remove_person(store, owner, ben.number)
    assert [p.name for p in people.everyone(store, owner)] == ["Aya"]
    assert refusal(people.change_role, store, owner, 1, role="king") == "role-wrong"


def test_another_role_holds_at_once_in_sessions_that_are_open(store, owner):
    ben = people.add_person(store, owner, name="Ben", role="crew", passphrase=OTHER)
    token = people.sign_in(store, name="Ben", passphrase=OTHER, address=DESK).token
    for role in (Role.OWNER, Role.VIEWER):
        people.change_role(store, owner, ben.number, role=role.value)
        assert people.visitor_of(store, token).role is role


@pytest.mark.parametrize("role", ["crew", "viewer"])
def test_others_do_not_keep_the_list(store, owner, role):
    ben = people.add_person(store, owner, name="Ben", role=role, passphrase=OTHER)
    visitor = enter(store, "Ben", OTHER)
    asked = [
        (people.everyone, {}),
        (people.add_person, {"name": "C", "role": "owner", "passphrase": WORDS}),
    ]
    named = [
        (people.rename_person, {"name": "C"}),
        (people.change_role, {"role": "owner"}),
        (people.remove_person, {}),
        (people.give_passphrase, {"new": WORDS}),
    ]
    for ask, facts in asked:
        assert refusal(ask, store, visitor, **facts) == "not-allowed"
    for ask, facts in named:
        assert refusal(ask, store, visitor, ben.number, **facts) == "not-allowed"
    assert [(p.name, p.role) for p in people.everyone(store, owner)] == [("Aya", Role.OWNER), ("Ben", Role(role))]


def test_ones_own_passphrase_is_changed_by_whoever_knows_it(store, owner):
    elsewhere = people.sign_in(store, name="Aya", passphrase=WORDS, address=DESK).token
    wrong = refusal(people.change_passphrase, store, owner, old=OTHER, new=OTHER, address=DESK)
    assert wrong == "sign-in-wrong"
    people.change_passphrase(store, owner, old=WORDS, new=OTHER, address=DESK)
    assert people.visitor_of(store, elsewhere) is None
    assert enter(store, "Aya", OTHER).name == "Aya"
    assert refusal(people.sign_in, store, name="Aya", passphrase=WORDS, address=DESK) == "sign-in-wrong"
    nobody = people.AT_THE_MACHINE
    assert refusal(people.change_passphrase, store, nobody, old=WORDS, new=OTHER, address=DESK) == "sign-in-needed"


def offered(store, visitor, role=Role.CREW):
    offer = people.offer_pairing(store, visitor, base="http://192.168.1.20:8000/", role=role)
    assert offer.address.startswith("http://192.168.1.20:8000/pair/")
    return offer, offer.address.rpartition("/")[2]


def test_a_phone_pairs_by_a_code_once(store):
    offer, token = offered(store, people.AT_THE_MACHINE)
    people.look_at_pairing(store, token)
    entry = people.pair_phone(store, token, phone="  Pixel\n7 ")
    phone = people.visitor_of(store, entry.token)
    assert (phone.name, phone.role, phone.person) == ("Pixel 7", Role.CREW, None)
    assert refusal(people.pair_phone, store, token, phone="x") == "pairing-used"
    assert refusal(people.look_at_pairing, store, token) == "pairing-used"
    assert offer.minutes == 10


def test_a_code_is_late_after_ten_minutes(store, clock):
    _, token = offered(store, people.AT_THE_MACHINE)
    clock.at += timedelta(minutes=10)
    assert refusal(people.pair_phone, store, token, phone="x") == "pairing-late"


def test_a_phone_may_no_more_than_whoever_paired_it(store, owner):
    people.add_person(store, owner, name="Vi", role="viewer", passphrase=OTHER)
    viewer = enter(store, "Vi", OTHER)
    _, token = offered(store, viewer, role=Role.OWNER)
    phone = people.visitor_of(store, people.pair_phone(store, token, phone="x").token)
    assert (phone.role, phone.name) == (Role.VIEWER, "Vi")
    _, token = offered(store, owner, role=Role.CREW)
    phone = people.visitor_of(store, people.pair_phone(store, token, phone="x").token)
    assert (phone.role, phone.name) == (Role.CREW, "Aya")


def test_the_picture_is_the_code_of_the_address(store):
    """Every dark square of the code lies in a dark shape of the picture, every light one in none."""
    from xml.etree import ElementTree as ET

    import segno
    from shapely import MultiPoint, MultiPolygon, Polygon

    offer, _ = offered(store, people.AT_THE_MACHINE)
    rows = [tuple(row) for row in segno.make(offer.address, micro=False, error="m", boost_error=False).matrix]
    shapes = [e.get("points") for e in ET.fromstring(offer.picture).iter() if e.tag.endswith("polygon")]
    ink = MultiPolygon([Polygon([tuple(map(float, point.split(","))) for point in text.split()]) for text in shapes])
    module = 60.0 / (len(rows) + 8)
    for j, row in enumerate(rows):
        places = MultiPoint([((4.5 + k) * module, (4.5 + j) * module) for k in range(len(row))])
        assert [ink.intersects(place) for place in places.geoms] == [bool(cell) for cell in row]
    assert ink.bounds == pytest.approx((4 * module, 4 * module, 60 - 4 * module, 60 - 4 * module), abs=0.005)


def test_one_ends_ones_own_sessions_and_an_owner_anybodys(store, owner):
    people.add_person(store, owner, name="Ben", role="crew", passphrase=OTHER)
    ben = enter(store, "Ben", OTHER)
    _, token = offered(store, ben)
    people.pair_phone(store, token, phone="Ben's phone")
    assert {s.phone for s in people.sessions(store, ben)} == {None, "Ben's phone"}
    assert refusal(people.end_session, store, ben, owner.session.number) == "session-unknown"
    assert len(people.sessions(store, owner)) == 3
    people.end_session(store, owner, ben.session.number)
    assert {s.phone for s in people.sessions(store, ben)} == {"Ben's phone"}


def test_a_phone_without_a_person_ends_only_itself(store):
    entries = []
    for name in ("one", "two"):
        _, token = offered(store, people.AT_THE_MACHINE)
        entries.append(people.pair_phone(store, token, phone=name))
    one = people.visitor_of(store, entries[0].token)
    assert [s.phone for s in people.sessions(store, one)] == ["one"]
    assert refusal(people.end_session, store, one, entries[1].session.number) == "session-unknown"
    assert len(people.sessions(store, people.AT_THE_MACHINE)) == 2


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(junk=st.one_of(st.text(max_size=80), st.binary(max_size=40).map(lambda b: b.decode("latin-1"))))
def test_junk_is_nobodys_token(store, junk):
    assert people.visitor_of(store, junk) is None
    with pytest.raises(StoreError) as caught:
        people.pair_phone(store, junk, phone="x")
    assert caught.value.fault.code == "pairing-unknown"


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(name=st.text(st.characters(), max_size=40), words=st.text(st.characters(), max_size=40))
def test_junk_at_the_door_is_refused_in_our_own_words(store, name, words):
    with pytest.raises((RefusedError, OutOfRangeError)) as caught:
        people.sign_in(store, name=name, passphrase=words, address="x")
    assert caught.value.fault.code in {"sign-in-wrong", "tries-too-many"}
    assert words == "" or len(words) < 4 or words not in str(caught.value)


def test_no_secret_is_kept_shown_or_logged(store, owner, tmp_path, caplog):
    caplog.set_level(logging.DEBUG)
    entry = people.sign_in(store, name="Aya", passphrase=WORDS, address=DESK)
    refusal(people.sign_in, store, name="Aya", passphrase=OTHER, address=DESK)
    offer, token = offered(store, owner)
    paired = people.pair_phone(store, token, phone="Pixel")
    told = repr((entry, offer, paired, owner, people.sessions(store, owner))) + caplog.text
    store.close()
    kept = b"".join(path.read_bytes() for path in tmp_path.iterdir())
    for secret in (WORDS, OTHER, entry.token, token, paired.token):
        assert secret not in told
        assert secret.encode() not in kept


@pytest.mark.slow
def test_a_command_without_a_store_does_not_wait_for_one():
    work = "import sys, evenfoot.office as office; assert 'sqlalchemy' not in sys.modules; office.people; assert 'sqlalchemy' in sys.modules; assert not hasattr(office, 'no')"
    subprocess.run([sys.executable, "-c", work], check=True)
