"""The walls around every page, each rule both ways."""

from __future__ import annotations

import pytest
from fastapi import FastAPI, Request
from hypothesis import given
from hypothesis import strategies as st
from starlette.testclient import TestClient

from evenfoot.errors import ConflictError, Fault
from evenfoot.web import guard

OWN = {"sec-fetch-site": "same-origin"}
HTML = {"accept": "text/html,application/xhtml+xml"}


def app_of(**settings):
    app = FastAPI()

    @app.get("/read")
    def read():
        return {"told": True}

    @app.post("/write")
    async def write(request: Request):
        return {"size": len(await request.body())}

    @app.post("/typed")
    def typed(width: int):
        return {"width": width}

    @app.get("/changed")
    def changed():
        raise ConflictError(Fault(where="job", code="job-changed", found="aa", allowed="bb"))

    @app.get("/slip")
    def slip():
        raise AssertionError("secret of the inside")

    guard.install(app, guard.Settings(**settings))
    return app


def client_of(base_url="http://127.0.0.1:8000", client=("127.0.0.1", 5), **settings):
    return TestClient(app_of(**settings), base_url=base_url, client=client, raise_server_exceptions=False)


def code_of(answer):
    return answer.json()["error"]["faults"][0]["code"]


@pytest.mark.parametrize("path", ["/read", "/none", "/changed", "/slip"])
def test_every_answer_carries_the_headers(path):
    answer = client_of().get(path)
    policy = dict(part.split(" ", 1) for part in answer.headers["content-security-policy"].split("; "))
    assert policy == {
        "default-src": "'none'",
        "script-src": "'self'",
        "style-src": "'self'",
        "img-src": "'self' data: blob:",
        "font-src": "'self'",
        "connect-src": "'self'",
        "manifest-src": "'self'",
        "worker-src": "'self'",
        "form-action": "'self'",
        "frame-ancestors": "'none'",
        "base-uri": "'none'",
    }
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["referrer-policy"] == "same-origin"
    assert answer.headers["cross-origin-opener-policy"] == "same-origin"
    assert answer.headers["cross-origin-resource-policy"] == "same-origin"
    assert "camera=()" in answer.headers["permissions-policy"]
    assert "strict-transport-security" not in answer.headers


def test_an_opener_policy_is_told_where_a_browser_heeds_one():
    """On plain http away from loopback a browser writes a complaint about it instead."""
    served = {"is_loopback_only": False, "allowed_hosts": ("192.168.1.20",)}
    plain = client_of("http://192.168.1.20:8000", **served).get("/read")
    assert "cross-origin-opener-policy" not in plain.headers
    safe = client_of("https://192.168.1.20:8000", is_https=True, **served).get("/read")
    assert safe.headers["cross-origin-opener-policy"] == "same-origin"


def test_only_https_is_told_to_stay_https():
    served = {"is_loopback_only": False, "allowed_hosts": ("desk.local",)}
    safe = client_of("https://desk.local:8000", is_https=True, **served).get("/read")
    assert safe.headers["strict-transport-security"] == "max-age=31536000"
    plain = client_of("http://desk.local:8000", **served).get("/read")
    assert "strict-transport-security" not in plain.headers
    # Other programs on this machine share its own name, and need not speak https.
    own = client_of("https://localhost:8000", is_https=True, **served).get("/read")
    assert "strict-transport-security" not in own.headers


def test_a_refusal_carries_the_headers_too():
    answer = client_of(base_url="http://elsewhere.example").get("/read")
    assert answer.status_code == 421
    assert "content-security-policy" in answer.headers


@pytest.mark.parametrize("host", ["127.0.0.1:8000", "localhost", "LOCALHOST:1", "[::1]:8000", "localhost."])
def test_a_machine_may_be_called_by_its_own_names(host):
    assert client_of().get("/read", headers={"host": host}).status_code == 200


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example", "localhost.evil.example:8000", "", "192.168.1.20", "[::2]:8000"]
)
def test_a_name_of_somebody_else_is_refused(host):
    answer = client_of().get("/read", headers={"host": host})
    assert (answer.status_code, code_of(answer)) == (421, "host-unknown")


def test_addresses_that_are_served_may_be_used_once_others_may_come():
    served = {"allowed_hosts": ("192.168.1.20", "desk.local"), "is_loopback_only": False}
    for host in ("192.168.1.20:8000", "desk.local", "Desk.Local:8000", "localhost:8000"):
        assert client_of(**served).get("/read", headers={"host": host}).status_code == 200
    assert client_of(**served).get("/read", headers={"host": "192.168.1.21:8000"}).status_code == 421
    closed = served | {"is_loopback_only": True}
    assert client_of(**closed).get("/read", headers={"host": "192.168.1.20:8000"}).status_code == 421


@pytest.mark.parametrize(
    "headers",
    [
        {"sec-fetch-site": "same-origin"},
        {"sec-fetch-site": "none"},
        {"origin": "http://127.0.0.1:8000"},
        {"sec-fetch-site": "same-origin", "origin": "null"},
    ],
)
def test_a_change_from_our_own_page_is_taken(headers):
    assert client_of().post("/write", headers=headers).status_code == 200


@pytest.mark.parametrize(
    "headers",
    [
        {},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"sec-fetch-site": ""},
        {"sec-fetch-site": "cross-site", "origin": "http://127.0.0.1:8000"},
        {"origin": "null"},
        {"origin": "http://evil.example"},
        {"origin": "http://127.0.0.1:3000"},
        {"origin": "https://127.0.0.1:8000"},
        {"origin": "http://127.0.0.1:8000.evil.example"},
    ],
)
@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE"])
def test_a_change_from_elsewhere_is_refused(headers, method):
    answer = client_of().request(method, "/write", headers=headers)
    assert (answer.status_code, code_of(answer)) == (403, "other-origin")


def test_reading_needs_no_origin():
    assert client_of().get("/read", headers={"sec-fetch-site": "cross-site"}).status_code == 200


def test_a_body_at_the_limit_is_taken_and_one_byte_more_is_not():
    client = client_of(body_limit=2000)
    assert client.post("/write", content=b"x" * 2000, headers=OWN).json() == {"size": 2000}
    answer = client.post("/write", content=b"x" * 2001, headers=OWN)
    assert (answer.status_code, code_of(answer)) == (413, "body-too-large")
    assert answer.json()["error"]["faults"][0]["allowed"] == "2 kB"


def test_a_body_without_a_length_is_limited_too():
    client = client_of(body_limit=2000)
    chunks = lambda n: iter([b"y" * 500] * n)  # noqa: E731 - a fresh iterator each time
    assert client.post("/write", content=chunks(4), headers=OWN).json() == {"size": 2000}
    assert client.post("/write", content=chunks(5), headers=OWN).status_code == 413


def test_reading_a_body_stops_at_the_limit(run):
    """A client that never ends is not read on and on: what comes after the limit is left where it is."""
    taken = 0

    async def endless():
        nonlocal taken
        taken += 1
        return {"type": "http.request", "body": b"z" * 500, "more_body": True}

    told = []

    async def tell(message):
        told.append(message)

    scope = {
        "type": "http",
        "method": "POST",
        "path": "/write",
        "scheme": "http",
        "query_string": b"",
        "headers": [(b"host", b"localhost"), (b"sec-fetch-site", b"none"), (b"transfer-encoding", b"chunked")],
    }
    run(app_of(body_limit=2000)(scope, endless, tell))
    assert told[0]["status"] == 413
    assert taken == 5


@pytest.mark.parametrize(
    ("length", "status"), [("9" * 30, 413), ("1e3", 400), ("-1", 400), ("²", 400), ("9" * 5000, 413)]
)
def test_a_length_that_is_none_is_refused(length, status, run):
    told = []

    async def nothing():
        return {"type": "http.request", "body": b"", "more_body": False}

    async def tell(message):
        told.append(message)

    headers = [(b"host", b"localhost"), (b"sec-fetch-site", b"none"), (b"content-length", length.encode("latin-1"))]
    scope = {"type": "http", "method": "POST", "path": "/write", "query_string": b"", "headers": headers}
    run(app_of()(scope, nothing, tell))
    assert told[0]["status"] == status


def test_other_kinds_of_link_are_closed(run):
    told = []

    async def tell(message):
        told.append(message)

    run(app_of()({"type": "websocket", "headers": []}, None, tell))
    assert told == [{"type": "websocket.close", "code": 1008}]


def test_an_error_has_one_shape():
    answer = client_of().get("/changed", headers={"accept-language": "ja"})
    assert answer.status_code == 409
    (fault,) = answer.json()["error"]["faults"]
    assert fault == {
        "where": "job",
        "code": "job-changed",
        "found": "aa",
        "allowed": "bb",
        "nearest": "",
        "text": "job：この仕事は他で変更されています。どちらも残っています。見比べてから保存し直してください。",
    }


def test_errors_of_the_framework_have_the_same_shape():
    client = client_of()
    assert code_of(client.get("/none")) == "page-unknown"
    answer = client.get("/write")
    assert (answer.status_code, code_of(answer), answer.headers["allow"]) == (405, "method-unknown", "POST")
    answer = client.post("/typed?width=wide", headers=OWN)
    (fault,) = answer.json()["error"]["faults"]
    assert (answer.status_code, fault["where"], fault["code"], fault["found"]) == (
        422,
        "query.width",
        "request-wrong",
        "wide",
    )


def test_a_slip_of_ours_tells_nothing_of_the_inside():
    answer = client_of().get("/slip")
    assert (answer.status_code, code_of(answer)) == (500, "unexpected")
    assert "secret" not in answer.text


def test_a_person_gets_a_page_and_what_was_typed_stays_text():
    answer = client_of().get("/<script>", headers=HTML | {"accept-language": "ja,en;q=0.5"})
    assert answer.headers["content-type"].startswith("text/html")
    assert '<html lang="ja">' in answer.text
    assert "<script>" not in answer.text
    assert "&lt;script&gt;" in answer.text


@pytest.mark.parametrize(
    ("liked", "language"),
    [
        ("ja", "ja"),
        ("ja-JP,en;q=0.8", "ja"),
        ("en-GB,ja;q=0.9", "en"),
        ("", "en"),
        ("fr", "en"),
        ("ja;q=x,en", "en"),
        ("en;q=0.3, ja;q=0.7", "ja"),
    ],
)
def test_the_language_is_the_one_that_the_browser_likes(liked, language):
    answer = client_of().get("/none", headers=HTML | {"accept-language": liked})
    assert f'<html lang="{language}">' in answer.text


def test_a_language_chosen_by_hand_wins():
    client = client_of()
    client.cookies.set("evenfoot-language", "ja")
    assert '<html lang="ja">' in client.get("/none", headers=HTML | {"accept-language": "en"}).text


@given(host=st.text(st.characters(codec="ascii", exclude_categories=["Cc"]), max_size=40))
def test_no_other_host_slips_through(host):
    settings = guard.Settings(is_loopback_only=False, allowed_hosts=("192.168.1.20",))
    if settings.knows_host(host):
        assert host.strip().lower().startswith(("localhost", "127.0.0.1", "[::1]", "::1", "192.168.1.20"))
        assert "example" not in host
