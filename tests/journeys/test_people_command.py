"""Whoever holds the store lets the last owner in again, at the machine itself and by no other way."""

from __future__ import annotations

import io
import json
import os
import pty
import subprocess
import sys

import pytest

from evenfoot.cli.main import BAD_INPUT, FINE, run
from evenfoot.errors import EvenfootError
from evenfoot.office import people

pytestmark = pytest.mark.slow

FORGOTTEN = "plane chalk heron seven"
NEW = "gimlet tide paper nine"


@pytest.fixture
def store(tmp_path):
    url = f"sqlite:///{tmp_path / 'jobs.db'}"
    kept = people.Store(url)
    entry = people.open_first(kept, name="Aya Mori", passphrase=FORGOTTEN)
    owner = people.visitor_of(kept, entry.token)
    people.add_person(kept, owner, name="Ben", role="crew", passphrase=FORGOTTEN)
    yield url, kept, entry.token
    kept.close()


def sign_in(kept, name, passphrase):
    try:
        return people.sign_in(kept, name=name, passphrase=passphrase, address="1.2.3.4")
    except EvenfootError as error:
        return error.fault.code


def piped(monkeypatch, text):
    monkeypatch.setattr(sys, "stdin", io.StringIO(text))


def test_a_new_passphrase_lets_in_and_ends_what_was_open(store, monkeypatch, capsys):
    url, kept, token = store
    for _ in range(6):
        sign_in(kept, "Aya Mori", "something else entirely")
    assert sign_in(kept, "Aya Mori", FORGOTTEN) == "tries-too-many"
    piped(monkeypatch, f"{NEW}\n")
    assert run(["people", "aya mori", "--store", url]) == FINE
    told = capsys.readouterr()
    assert "Aya Mori" in told.out
    assert NEW not in told.out + told.err
    assert people.visitor_of(kept, token) is None
    assert sign_in(kept, "Aya Mori", NEW).session.person.role is people.Role.OWNER
    assert sign_in(kept, "Aya Mori", FORGOTTEN) == "sign-in-wrong"


def test_somebody_else_is_made_an_owner_when_the_only_one_has_left(store, monkeypatch, capsys):
    url, kept, _ = store
    piped(monkeypatch, NEW)
    assert run(["people", "Ben", "--owner", "--store", url, "--json"]) == FINE
    assert json.loads(capsys.readouterr().out)["person"]["role"] == "owner"
    assert sign_in(kept, "Ben", NEW).session.role is people.Role.OWNER


def test_nothing_changes_by_a_short_passphrase_an_unknown_name_or_another_place(store, monkeypatch, capsys, tmp_path):
    url, kept, token = store
    for words, typed, code in (
        (["Aya Mori", "--store", url], "short\n", "passphrase-short"),
        (["Eve", "--store", url], f"{NEW}\n", "person-name-unknown"),
        (["Aya Mori", "--store", f"sqlite:///{tmp_path / 'none.db'}"], f"{NEW}\n", "store-missing"),
    ):
        piped(monkeypatch, typed)
        assert run(["people", *words, "--json"]) == BAD_INPUT
        assert json.loads(capsys.readouterr().out)["error"]["faults"][0]["code"] == code
    assert not (tmp_path / "none.db").exists()
    assert people.visitor_of(kept, token) is not None
    assert sign_in(kept, "Aya Mori", FORGOTTEN).token


@pytest.mark.parametrize(("language", "role"), [("en", "owner"), ("ja", "親方")])
def test_the_list_tells_who_may_sign_in_and_nothing_secret(store, capsys, language, role):
    url, *_ = store
    assert run(["people", "--store", url, "--lang", language]) == FINE
    out = capsys.readouterr().out
    assert f"Aya Mori  {role}" in out
    assert "argon2" not in out
    assert run(["people", "--store", url, "--json"]) == FINE
    record = json.loads(capsys.readouterr().out)
    assert [set(one) for one in record["people"]] == [{"number", "name", "role", "made_at"}] * 2


def test_at_a_terminal_it_is_asked_twice_and_not_shown(store):
    url, kept, _ = store
    far, near = pty.openpty()
    command = [sys.executable, "-m", "evenfoot", "people", "Aya Mori", "--store", url, "--lang", "en"]
    work = subprocess.Popen(command, stdin=near, stdout=near, stderr=near, start_new_session=True)
    os.close(near)
    shown = b""
    for prompt in (b"New passphrase", b"Once more"):
        while prompt not in shown:
            shown += os.read(far, 1000)
        os.write(far, NEW.encode() + b"\n")
    assert work.wait(60) == 0
    try:
        while found := os.read(far, 1000):
            shown += found
    except OSError:  # a terminal whose other end is closed
        pass
    os.close(far)
    assert NEW.encode() not in shown
    assert sign_in(kept, "Aya Mori", NEW).token
