"""Who may come in, and what they may do there: each rule both ways, by people and by programs."""

from __future__ import annotations

import logging
import re
from typing import Annotated

import pytest
from argon2 import PasswordHasher
from fastapi import Depends, FastAPI
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from evenfoot.office import people
from evenfoot.office.people import sealed
from evenfoot.store import Role, Store
from evenfoot.web import Settings, guard
from evenfoot.web.app import make_app
from evenfoot.web.guard.door import CHANGES, needed
from evenfoot.web.hands import Errands

WORDS = "plane chalk heron seven"
OTHER = "gimlet tide paper nine"
HTML = {"accept": "text/html"}
LAN = "http://192.168.1.20:8410"
LOCAL = "http://localhost:8410"


@pytest.fixture(autouse=True)
def quick_hashes(monkeypatch):
    sealed.nobodys_hash.cache_clear()
    monkeypatch.setattr(sealed, "_hasher", lambda: PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
    yield
    sealed.nobodys_hash.cache_clear()


@pytest.fixture
def store(tmp_path):
    found = Store(f"sqlite:///{tmp_path / 'jobs.db'}")
    yield found
    found.close()


@pytest.fixture
def serve(store):
    """Return what makes the page of a shop: ``serve(has_people=True)``."""

    def made(**settings):
        app = FastAPI()

        @app.get("/api/jobs")
        def jobs():
            return ["a"]

        @app.get("/who")
        def who(visitor: Annotated[people.Visitor, Depends(guard.visitor_of)]):
            return {"name": visitor.name, "role": visitor.role}

        @app.get("/secret", dependencies=[Depends(guard.needs("people"))])
        def secret():
            return "list"

        @app.post("/api/jobs/1/log")
        def log():
            return "log"

        @app.post("/api/jobs/1/changes")
        def edit():
            return "edit"

        @app.post("/api/jobs/1/errands")
        def errand():
            return "errand"

        settings = {"is_loopback_only": False, "allowed_hosts": ("192.168.1.20",)} | settings
        guard.install(app, guard.Settings(**settings), store)
        return app

    return made


def browser(app, base, *, address=None, **headers):
    """Return a browser: at the machine itself by its own name, else on the network."""
    address = address or ("127.0.0.1" if base == LOCAL else "192.168.1.77")
    return TestClient(
        app, base_url=base, client=(address, 9), headers={"origin": base} | headers, follow_redirects=False
    )


def code_of(answer):
    return answer.json()["error"]["faults"][0]["code"]


def open_list(app):
    desk = browser(app, LOCAL)
    answer = desk.post("/people/first", data={"name": "Aya", "passphrase": WORDS})
    assert (answer.status_code, answer.headers["location"]) == (303, "/people")
    return desk


def pairing(desk, role="crew"):
    answer = desk.post("/pair", data={"role": role}, headers=HTML)
    assert answer.status_code == 200
    return re.search(r'class="address">([^<]+)<', answer.text)[1]


def test_at_the_machine_nobody_needs_a_name(serve):
    desk = browser(serve(), LOCAL)
    assert desk.get("/api/jobs").json() == ["a"]
    assert desk.get("/who").json() == {"name": "", "role": "owner"}
    assert desk.post("/api/jobs/1/changes").json() == "edit"


@pytest.mark.parametrize("address", ["127.0.0.1", "127.8.9.10", "::1", "::ffff:127.0.0.1"])
def test_every_own_address_is_the_machine(serve, address):
    assert browser(serve(), LOCAL, address=address).get("/api/jobs").status_code == 200


@pytest.mark.parametrize(
    "address", ["192.168.1.77", "10.0.0.1", "::ffff:192.168.1.77", "fe80::1%eth0", "128.0.0.1", "testclient"]
)
def test_from_anywhere_else_a_phone_has_to_pair(serve, address):
    answer = browser(serve(), LAN, address=address).get("/api/jobs")
    assert (answer.status_code, code_of(answer)) == (401, "pairing-needed")
    assert answer.headers["www-authenticate"].startswith("Session")


@pytest.mark.parametrize("name", ["forwarded", "x-forwarded-for", "x-real-ip", "via"])
def test_whoever_passes_requests_on_does_not_sit_at_the_machine(serve, name):
    passed = browser(serve(), LOCAL, **{name: "127.0.0.1"})
    assert code_of(passed.get("/api/jobs")) == "pairing-needed"


def test_the_machine_is_called_by_its_own_name(serve):
    """The own address under another name is somebody who passes requests on without saying so."""
    answer = browser(serve(), LAN, address="127.0.0.1").get("/api/jobs")
    assert code_of(answer) == "pairing-needed"


def test_a_page_that_serves_this_machine_alone_has_no_door_for_others(serve):
    alone = serve(is_loopback_only=True)
    assert browser(alone, LOCAL).get("/api/jobs").status_code == 200
    for path in ("/api/jobs", "/sign-in", "/pair/x", "/assets/x"):
        answer = browser(alone, LOCAL, address="192.168.1.77").get(path)
        assert (answer.status_code, code_of(answer)) == (403, "loopback-only")


@pytest.mark.parametrize("path", ["/service-worker.js", "/manifest.webmanifest", "/kept", "/assets/base.css"])
def test_what_holds_nothing_of_a_job_is_open_to_all(tmp_path, path):
    app = make_app(Settings(store_url=f"sqlite:///{tmp_path / 'jobs.db'}", host="0.0.0.0", names=("192.168.1.20",)))
    assert browser(app, LAN).get(path).status_code == 200
    assert browser(app, LAN).get(f"{path}/more").status_code in {401, 404}
    assert browser(app, LAN).get(f"/x{path}").status_code == 401
    app.state.shelf.store.close()


def test_a_phone_pairs_and_comes_in(serve):
    app = serve()
    desk, phone = browser(app, LOCAL), browser(app, LAN)
    address = pairing(desk)
    assert address.startswith(f"{LAN}/pair/")
    assert phone.get(address, headers=HTML).status_code == 200
    assert phone.get(address, headers=HTML).status_code == 200  # looking, as a previewer does, uses nothing up
    answer = phone.post(address, data={"phone": "Pixel 7"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    assert phone.get("/who").json() == {"name": "Pixel 7", "role": "crew"}
    second = browser(app, LAN).post(address, data={"phone": "thief"})
    assert (second.status_code, code_of(second)) == (410, "pairing-used")


def test_a_button_pressed_twice_does_no_harm(serve):
    app = serve()
    phone, address = browser(app, LAN), pairing(browser(app, LOCAL))
    phone.post(address, data={"phone": "Pixel"})
    answer = phone.post(address, data={"phone": "Pixel"})
    assert (answer.status_code, answer.headers["location"]) == (303, "/")


def test_a_page_elsewhere_cannot_pair_for_somebody(serve):
    app = serve()
    address = pairing(browser(app, LOCAL))
    answer = browser(app, LAN).post(address, headers={"origin": "http://evil.example"})
    assert code_of(answer) == "other-origin"
    assert browser(app, LAN).post(address, data={"phone": "x"}).status_code == 303


def test_a_lost_phone_is_shut_out_at_the_desk(serve, store):
    app = serve()
    desk, phone = browser(app, LOCAL), browser(app, LAN)
    phone.post(pairing(desk), data={"phone": "lost one"})
    page = desk.get("/pair", headers=HTML).text
    assert "lost one" in page
    number = re.search(r"/sessions/(\d+)/end", page)[1]
    assert desk.post(f"/sessions/{number}/end").status_code == 303
    assert phone.get("/api/jobs").status_code == 401
    assert "lost one" not in desk.get("/pair", headers=HTML).text


def test_the_cookie_is_out_of_reach_of_scripts(serve):
    app = serve()
    answer = browser(app, LAN).post(pairing(browser(app, LOCAL)), data={"phone": "x"})
    name, *traits = answer.headers["set-cookie"].split("; ")
    assert re.fullmatch(r"evenfoot-session=[\w-]{43}", name)
    assert {"HttpOnly", "SameSite=lax", "Path=/"} <= set(traits)
    assert "Secure" not in traits


def test_over_https_the_cookie_travels_nowhere_else(serve):
    app = serve(is_https=True)
    base = LAN.replace("http:", "https:")
    desk = browser(app, LOCAL.replace("http:", "https:"), address="127.0.0.1")
    answer = browser(app, base).post(pairing(desk), data={"phone": "x"})
    name, *traits = answer.headers["set-cookie"].split("; ")
    assert name.startswith("__Host-evenfoot=")
    assert {"HttpOnly", "SameSite=lax", "Path=/", "Secure"} <= set(traits)
    assert not any(trait.startswith("Domain") for trait in traits)


TABLE = [
    # method, path, owner, crew, viewer
    ("GET", "/api/jobs", True, True, True),
    ("POST", "/api/jobs/1/log", True, True, False),
    ("POST", "/api/jobs/1/errands", True, True, True),
    ("POST", "/api/jobs/1/changes", True, False, False),
    ("GET", "/secret", True, False, False),
    ("GET", "/pair", True, True, True),
    ("POST", "/pair", True, True, True),
    ("POST", "/people", True, False, False),
    ("POST", "/people/1/remove", True, False, False),
    ("DELETE", "/never/seen/before", True, False, False),
]


@pytest.mark.parametrize(("method", "path", "owner", "crew", "viewer"), TABLE)
def test_each_role_does_what_the_table_says(serve, method, path, owner, crew, viewer):
    app = serve()
    for role, may in (("owner", owner), ("crew", crew), ("viewer", viewer)):
        phone = browser(app, LAN)
        phone.post(pairing(browser(app, LOCAL), role), data={"phone": "x"})
        answer = phone.request(method, path)
        assert (answer.status_code == 403) is not may
        if not may:
            assert code_of(answer) == "not-allowed"


def test_a_change_that_no_row_names_needs_the_right_to_edit():
    assert needed("POST", "/something/new") is people.Action.EDIT
    assert needed("GET", "/something/new") is people.Action.READ
    assert needed("POST", "/api/jobs/1/log/more") is people.Action.EDIT
    assert needed("POST", "/x/api/jobs/1/log") is people.Action.EDIT
    assert not any(pattern.fullmatch("/api/jobs/1/changes") for pattern, _ in CHANGES)


@pytest.mark.parametrize(
    ("method", "path", "action"),
    [
        ("POST", "/api/jobs/1/log", "log"),
        ("POST", "/api/jobs/1/asks", "log"),
        ("POST", "/api/jobs/1/errands", "read"),
        ("POST", "/api/jobs/1/variants", "read"),
        ("DELETE", "/api/errands/x", "read"),
        ("POST", "/language", "read"),
        ("POST", "/api/jobs/1/changes", "edit"),
        ("PUT", "/api/jobs/1/texts", "edit"),
        ("POST", "/jobs/1/archive", "edit"),
    ],
)
def test_the_page_has_what_the_table_of_changes_names(tmp_path, method, path, action):
    """A row for a path that is no more would be an open door to whatever comes to stand there."""
    app = make_app(Settings(store_url=f"sqlite:///{tmp_path / 'jobs.db'}"))
    app.state.errands = Errands()
    answer = browser(app, LOCAL).request(method, path)
    assert needed(method, path) == action
    assert answer.status_code in {404, 422}
    assert code_of(answer) not in {"page-unknown", "method-unknown"}
    app.state.shelf.store.close()


def test_once_there_are_people_everybody_signs_in(serve):
    app = serve()
    phone = browser(app, LAN)
    phone.post(pairing(browser(app, LOCAL)), data={"phone": "old"})
    desk = open_list(app)
    assert desk.get("/who").json() == {"name": "Aya", "role": "owner"}
    for stranger in (browser(app, LOCAL), browser(app, LAN), phone):
        answer = stranger.get("/api/jobs")
        assert (answer.status_code, code_of(answer)) == (401, "sign-in-needed")
        page = stranger.get("/somewhere", headers=HTML)
        assert page.status_code == 401
        assert 'name="passphrase"' in page.text
        assert 'name="back" value="/somewhere"' in page.text
    second = browser(app, LOCAL).post("/people/first", data={"name": "Eve", "passphrase": WORDS})
    assert (second.status_code, code_of(second)) == (409, "people-opened")


def test_a_firm_is_asked_for_names_before_there_are_any(serve):
    app = serve(has_people=True)
    desk, phone = browser(app, LOCAL), browser(app, LAN)
    assert code_of(desk.get("/api/jobs")) == "sign-in-needed"
    assert "/people/first" in desk.get("/", headers=HTML).text
    assert "/people/first" not in phone.get("/", headers=HTML).text
    assert phone.post("/people/first", data={"name": "Eve", "passphrase": WORDS}).status_code == 401
    open_list(app)


def test_only_at_the_machine_is_the_first_owner_made(serve, store):
    app = serve()
    phone = browser(app, LAN)
    phone.post(pairing(browser(app, LOCAL), "owner"), data={"phone": "x"})
    answer = phone.post("/people/first", data={"name": "Eve", "passphrase": WORDS})
    assert (answer.status_code, code_of(answer)) == (403, "at-the-machine")
    assert store.people.everyone() == ()


def test_one_signs_in_and_out(serve):
    app = serve()
    open_list(app)
    there = browser(app, LAN)
    wrong = there.post("/sign-in", data={"name": "Aya", "passphrase": OTHER, "back": "/"}, headers=HTML)
    assert wrong.status_code == 401
    assert 'role="alert"' in wrong.text
    assert OTHER not in wrong.text
    right = there.post("/sign-in", data={"name": "Aya", "passphrase": WORDS, "back": "/jobs/1"})
    assert (right.status_code, right.headers["location"]) == (303, "/jobs/1")
    first = there.cookies["evenfoot-session"]
    there.post("/sign-in", data={"name": "Aya", "passphrase": WORDS})
    assert there.cookies["evenfoot-session"] != first
    old = browser(app, LAN)
    old.cookies.set("evenfoot-session", first)
    assert old.get("/who").status_code == 401  # the session before has ended
    assert there.post("/sign-out").headers["location"] == "/sign-in"
    assert there.get("/who").status_code == 401


@pytest.mark.parametrize("back", ["//evil.example", "/\\evil.example", "https://evil.example", "", "x", "/a\nb"])
def test_signing_in_leads_nowhere_else(serve, back):
    app = serve()
    open_list(app)
    answer = browser(app, LAN).post("/sign-in", data={"name": "Aya", "passphrase": WORDS, "back": back})
    assert answer.headers["location"] == "/"


def test_wrong_tries_are_told_to_wait(serve):
    app = serve()
    open_list(app)
    there = browser(app, LAN)
    told = [there.post("/sign-in", data={"name": "Aya", "passphrase": OTHER}).status_code for _ in range(6)]
    assert told == [401] * 5 + [429]


def test_an_owner_keeps_the_list_on_its_page(serve, store):
    app = serve()
    desk = open_list(app)
    assert desk.post("/people", data={"name": "Ben", "passphrase": OTHER, "role": "crew"}).status_code == 303
    assert "Ben" in desk.get("/people", headers=HTML).text
    taken = desk.post("/people", data={"name": "ben", "passphrase": OTHER, "role": "crew"}, headers=HTML)
    assert taken.status_code == 409
    assert 'role="alert"' in taken.text
    desk.post("/people/2", data={"name": "Benkei", "role": "viewer"})
    assert [(p.name, p.role) for p in store.people.everyone()] == [("Aya", Role.OWNER), ("Benkei", Role.VIEWER)]
    last = desk.post("/people/1", data={"name": "Aya", "role": "crew"}, headers=HTML)
    assert last.status_code == 409
    desk.post("/people/2/passphrase", data={"passphrase": WORDS})
    ben = browser(app, LAN)
    assert ben.post("/sign-in", data={"name": "Benkei", "passphrase": WORDS}).status_code == 303
    assert ben.get("/who").json() == {"name": "Benkei", "role": "viewer"}
    page = ben.get("/people", headers=HTML).text
    assert "Aya" not in page
    assert "Benkei" in page
    changed = ben.post("/people/passphrase", data={"old_passphrase": WORDS, "new_passphrase": OTHER})
    assert changed.status_code == 303
    short = ben.post("/people/passphrase", data={"old_passphrase": OTHER, "new_passphrase": "short"}, headers=HTML)
    assert short.status_code == 422
    desk.post("/people/2/remove")
    assert ben.get("/who").status_code == 401


def test_a_passphrase_that_is_too_long_is_not_shown_again(serve):
    app = serve()
    open_list(app)
    long = "verysecret" * 200
    for headers in (HTML, {}):
        answer = browser(app, LAN).post("/sign-in", data={"name": "Aya", "passphrase": long}, headers=headers)
        assert answer.status_code == 422
        assert "verysecret" not in answer.text


def test_pages_of_the_door_are_never_kept(serve):
    app = serve()
    desk = browser(app, LOCAL)
    for path in ("/people", "/pair", "/sign-in"):
        answer = desk.get(path, headers=HTML)
        assert (answer.status_code, answer.headers["cache-control"]) == (200, "no-store")


@pytest.mark.parametrize("language", ["en", "ja"])
@pytest.mark.parametrize("is_firm", [False, True])
def test_pages_speak_both_languages(serve, language, is_firm):
    app = serve()
    desk = open_list(app) if is_firm else browser(app, LOCAL)
    for path in ("/people", "/pair", "/sign-in", pairing(desk)):
        page = desk.get(path, headers=HTML | {"accept-language": language}).text
        assert f'<html lang="{language}">' in page
        assert ("名" in page or "スマホ" in page) is (language == "ja")


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(junk=st.text(st.characters(codec="latin-1", exclude_characters="\r\n\0"), max_size=90))
def test_junk_in_the_cookie_opens_nothing(serve, junk):
    app = serve()
    there = browser(app, LAN)
    answer = there.get("/api/jobs", headers={"cookie": f"evenfoot-session={junk}".encode("latin-1")})
    assert answer.status_code == 401


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(junk=st.one_of(st.text(min_size=1, max_size=60), st.binary(min_size=1, max_size=20)))
def test_junk_for_a_token_pairs_nothing(serve, junk):
    raw = junk.encode("utf-8", "surrogatepass") if isinstance(junk, str) else junk
    there = browser(serve(), LAN)
    answer = there.post("/pair/" + "".join(f"%{byte:02X}" for byte in raw), data={"phone": "x"})
    assert answer.status_code in {404, 401, 405}
    assert "set-cookie" not in answer.headers


def test_no_token_is_written_into_the_log_of_whoever_serves(serve, caplog):
    serve()
    caplog.set_level(logging.INFO, logger="uvicorn.access")
    log = logging.getLogger("uvicorn.access")
    log.info('%s - "%s %s HTTP/%s" %d', "1.2.3.4:5", "POST", "/pair/abc-DEF_1", "1.1", 303)
    log.info('%s - "%s %s HTTP/%s" %d', "1.2.3.4:5", "GET", "/jobs/7/at/site", "1.1", 200)
    assert "abc-DEF_1" not in caplog.text
    assert "/pair/... HTTP/1.1" in caplog.text
    assert "/jobs/7/at/site" in caplog.text


def test_the_bare_address_that_was_reached_is_a_name_of_this_machine():
    settings = guard.Settings(is_loopback_only=False)
    assert settings.knows_host("192.168.1.20:8410", "192.168.1.20")
    assert settings.knows_host("192.168.1.20:8410", "::ffff:192.168.1.20")
    assert settings.knows_host("[fe80::2]:8410", "fe80::2%eth0")
    assert not settings.knows_host("192.168.1.21", "192.168.1.20")
    assert not settings.knows_host("evil.example", "evil.example")
    assert not settings.knows_host("", "")
    assert not guard.Settings().knows_host("192.168.1.20", "192.168.1.20")
