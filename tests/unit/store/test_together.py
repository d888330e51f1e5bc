"""Many at once, on both databases: nothing is lost, nothing is written over unseen, nobody meets a raw error."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta

import pytest
import sqlalchemy as sa

from evenfoot.errors import ConflictError, StoreError
from evenfoot.store import Role, Store
from evenfoot.store.opening import _MIGRATION_LOCK

HANDS = 8


def together(works: list[Callable[[], object]]) -> list[object]:
    """Do all works at once and return what each gave, or the error of ours that it met; another error passes out."""
    gate = threading.Barrier(len(works))

    def one(work):
        gate.wait()
        try:
            return work()
        except (ConflictError, StoreError) as error:
            return error

    with ThreadPoolExecutor(len(works)) as pool:
        return list(pool.map(one, works))


@pytest.fixture
def store(url):
    found = Store(url)
    yield found
    found.close()


def test_two_people_who_save_one_job_keep_both_texts(store):
    job = store.create(name="a", job_text="0")
    seen = store.head(job).digest
    first, second = together([lambda t=t: store.save(job, job_text=t, over=seen, who=t) for t in ("Aya", "Ben")])
    lost = first if isinstance(first, ConflictError) else second
    won = second if lost is first else first
    assert isinstance(lost, ConflictError)
    assert lost.fault.code == "job-changed"
    assert store.head(job) == won
    # Whoever was refused still has the text, looks at what stands, and saves again.
    again = "Ben" if won.who == "Aya" else "Aya"
    store.save(job, job_text=again, over=store.head(job).digest, who=again)
    assert [r.job_text for r in store.history(job)] == ["0", won.who, again]


@pytest.mark.slow
def test_saves_and_log_lines_of_many_hands_are_all_there(store):
    job = store.create(name="a", job_text="0")

    def work(hand):
        won = []
        for k in range(6):
            while True:
                standing = store.head(job)
                try:
                    store.save(job, job_text=f"{standing.job_text}+{hand}.{k}", over=standing.digest)
                except ConflictError:
                    continue
                break
            won.append(f"{hand}.{k}")
            store.add_lines(job, [f"own {hand}.{k}", f"shared {k}"])
        return won

    told = together([lambda h=h: work(h) for h in range(HANDS)])
    assert all(isinstance(won, list) for won in told)
    assert sorted(store.head(job).job_text.split("+")[1:]) == sorted(mark for won in told for mark in won)
    assert [r.number for r in store.history(job)] == list(range(1, HANDS * 6 + 2))
    lines = store.lines(job)
    assert sorted(lines) == sorted(
        [f"own {h}.{k}" for h in range(HANDS) for k in range(6)] + [f"shared {k}" for k in range(6)]
    )


def test_the_same_lines_from_many_phones_at_once_are_one_fact_each(store):
    job = store.create(name="a", job_text="0")
    lines = [f"reading {k}" for k in range(20)]
    told = together([lambda: store.add_lines(job, lines)] * HANDS)
    assert sum(told) == 20
    assert store.lines(job) == tuple(lines)


def test_undo_of_many_hands_goes_back_once_for_each_that_was_told(store):
    job = store.create(name="a", job_text="0")
    for k in range(1, 20):
        store.save(job, job_text=str(k), over=store.head(job).digest)
    told = together([lambda: store.undo(job).number] * HANDS)
    done = [number for number in told if isinstance(number, int)]
    assert len(set(done)) == len(done)
    assert store.head(job).number == 20 - len(done)


def test_one_token_pairs_one_of_two_phones_that_bring_it_at_once(store):
    for k in range(5):
        store.sessions.offer(f"t{k}", person=None, role=Role.CREW, within=timedelta(minutes=5))
        told = together([lambda p=p, k=k: store.sessions.pair(f"t{k}", session=f"s{k}{p}", phone=p) for p in "abcd"])
        refused = [found for found in told if isinstance(found, StoreError)]
        assert [error.fault.code for error in refused] == ["pairing-used"] * 3
    assert len(store.sessions.living(idle=timedelta(days=1))) == 5


def test_of_many_who_open_the_list_of_people_one_becomes_owner(store):
    told = together([lambda n=n: store.people.open_first(name=n, passphrase_hash="h") for n in "abcd"])
    assert [e.fault.code for e in told if isinstance(e, StoreError)] == ["people-opened"] * 3
    assert len(store.people.everyone()) == 1


def test_owners_who_remove_each_other_at_once_leave_one(store):
    first = store.people.open_first(name="a", passphrase_hash="h")
    others = [store.people.add(name=n, role=Role.OWNER, passphrase_hash="h") for n in "bcd"]
    told = together([lambda p=p: store.people.remove(p.number) for p in (first, *others)])
    assert [e.fault.code for e in told if isinstance(e, StoreError)] == ["last-owner"]
    assert len(store.people.everyone()) == 1


def test_one_name_is_given_once(store):
    store.people.open_first(name="o", passphrase_hash="h")
    told = together([lambda: store.people.add(name="Aya", role=Role.CREW, passphrase_hash="h")] * 4)
    assert [e.fault.code for e in told if isinstance(e, StoreError)] == ["person-exists"] * 3


def test_every_try_is_counted(store):
    told = together([lambda: store.people.count_try("aya", within=timedelta(minutes=15))] * HANDS)
    assert sorted(told) == list(range(1, HANDS + 1))


def test_a_new_store_may_be_opened_by_many_at_once(url):
    stores = together([lambda: Store(url)] * 4)
    assert all(isinstance(found, Store) for found in stores)
    assert stores[0].create(name="a", job_text="1") == 1
    assert stores[3].head(1).job_text == "1"
    for found in stores:
        found.close()


def test_a_connection_that_the_server_cut_is_made_anew(store, url):
    job = store.create(name="a", job_text="1")
    if url.startswith("sqlite"):
        store.close()  # a file has no server; letting go of every connection is the nearest there is
    else:
        with sa.create_engine(url, poolclass=sa.NullPool).connect() as link:
            cut = "SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE datname = current_database() AND pid <> pg_backend_pid()"
            assert link.execute(sa.text(cut)).scalar_one() >= 1
    assert store.head(job).job_text == "1"
    store.save(job, job_text="2", over=store.head(job).digest)
    assert store.head(job).job_text == "2"


def test_a_hand_that_holds_on_too_long_is_told_as_busy(url, monkeypatch):
    monkeypatch.setattr("evenfoot.store.opening.BUSY_S", 1)
    store = Store(url)
    job = store.create(name="a", job_text="1")
    holder = sa.create_engine(url, poolclass=sa.NullPool)
    with holder.connect() as link:
        if url.startswith("sqlite"):
            link.exec_driver_sql("BEGIN IMMEDIATE")
        else:
            link.execute(sa.text("SELECT * FROM jobs FOR UPDATE"))
        with pytest.raises(StoreError) as caught:
            store.add_lines(job, ["x"])
        assert caught.value.fault.code == "store-busy"
        assert store.head(job).job_text == "1"  # whoever reads need not wait
    assert store.add_lines(job, ["x"]) == 1
    store.close()


def is_waiting(url, thread):
    """Whether ``thread`` waits for a lock: as the server tells, or, of a file, as long as it has not ended."""
    if url.startswith("sqlite"):
        thread.join(0.7)
        return thread.is_alive()
    asked = sa.text("SELECT count(*) FROM pg_locks WHERE NOT granted")
    with sa.create_engine(url, poolclass=sa.NullPool, isolation_level="AUTOCOMMIT").connect() as link:
        while thread.is_alive() and not link.execute(asked).scalar_one():
            time.sleep(0.02)
    return thread.is_alive()


def while_held(url, hold, work):
    """Begin ``work`` while another transaction has done ``hold`` and not finished; return what work met, once it is."""
    told = []

    def meet():
        try:
            told.append(work())
        except StoreError as error:
            told.append(error.fault.code)

    thread = threading.Thread(target=meet)
    with sa.create_engine(url, poolclass=sa.NullPool).connect() as link:
        if url.startswith("sqlite"):
            link.connection.driver_connection.isolation_level = None
            link.exec_driver_sql("BEGIN IMMEDIATE")
        hold(link)
        thread.start()
        assert is_waiting(url, thread), told
        link.exec_driver_sql("COMMIT") if url.startswith("sqlite") else link.commit()
    thread.join(10)
    return told[0]


def test_an_owner_who_is_just_leaving_does_not_count_as_one_who_stays(store, url):
    first = store.people.open_first(name="a", passphrase_hash="h")
    second = store.people.add(name="b", role=Role.OWNER, passphrase_hash="h")
    leave = sa.text("UPDATE people SET ended_at = 'now', name_key = NULL WHERE id = :who").bindparams(who=first.number)
    assert while_held(url, lambda link: link.execute(leave), lambda: store.people.remove(second.number)) == "last-owner"


def test_a_first_owner_who_is_just_being_entered_is_the_first(store, url):
    enter = sa.text(
        "INSERT INTO people (name, name_key, role, passphrase_hash, is_opener, made_at)"
        " VALUES ('a', 'a', 'owner', 'h', :yes, 'now')"
    ).bindparams(yes=True)
    work = lambda: store.people.open_first(name="b", passphrase_hash="h")  # noqa: E731
    assert while_held(url, lambda link: link.execute(enter), work) == "people-opened"


def test_whoever_opens_a_new_store_waits_for_whoever_is_making_it(url):
    def lock(link):
        if not url.startswith("sqlite"):
            link.execute(sa.select(sa.func.pg_advisory_xact_lock(_MIGRATION_LOCK)))

    store = while_held(url, lock, lambda: Store(url))
    assert isinstance(store, Store), store
    assert store.create(name="a", job_text="1") == 1
    store.close()


def test_a_job_that_is_just_being_saved_is_not_saved_over(store, url):
    job = store.create(name="a", job_text="0")
    seen = store.head(job).digest

    def save(link):
        link.execute(sa.text("UPDATE jobs SET head = 2 WHERE id = 1"))
        row = "INSERT INTO revisions VALUES (1, 2, 1, 'theirs', '', 'other', 'Ben', 'now', '0')"
        link.execute(sa.text(row))

    work = lambda: together([lambda: store.save(job, job_text="mine", over=seen)])[0]  # noqa: E731
    found = while_held(url, save, work)
    assert isinstance(found, ConflictError)
    assert [r.job_text for r in store.history(job)] == ["0", "theirs"]
