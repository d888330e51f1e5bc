"""Pages write whatever they are given as text, take in whatever comes without falling over, and lead nowhere else."""

from __future__ import annotations

import pytest
from starlette.testclient import TestClient

from evenfoot.office.desk import stations
from evenfoot.web import Settings, make_app

pytestmark = pytest.mark.slow

EVIL = "<script>alert(1)</script>\"'&{{7*7}}"
HTML = {"accept": "text/html"}
OWN = {"sec-fetch-site": "same-origin", **HTML}


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    store = tmp_path_factory.mktemp("pages") / "jobs.db"
    app = make_app(Settings(store_url=f"sqlite:///{store}", hands=1))
    with TestClient(
        app, base_url="http://localhost", client=("127.0.0.1", 5), headers=OWN, follow_redirects=False
    ) as found:
        yield found


def taken_in(client, text, name="job.toml"):
    raw = text if isinstance(text, bytes) else text.encode()
    return client.post("/jobs/take-in", files={"file": (name, raw, "text/plain")})


@pytest.fixture(scope="module")
def evil_job(client):
    begun = client.post("/api/jobs", json={"name": EVIL}).json()
    job = begun["job"]["number"]
    changes = {
        "site.obstacle[0].name": EVIL,
        "floor.board.species": EVIL,
        "floor.drop": EVIL,
        "site.levels[0].name": EVIL,
        "crew.people": EVIL,
    }
    assert (
        client.post(f"/api/jobs/{job}/changes", json={"over": begun["digest"], "changes": changes}).status_code == 200
    )
    return job


PLACES = [
    "/",
    *(f"/jobs/JOB/at/{one.code}" for one in stations()),
    *(f"/jobs/JOB/{place}" for place in ("papers", "past", "past/1", "past/2", "texts", "what-if")),
    "/?search=%3Cscript%3Ealert(1)%3C/script%3E",
    "/jobs/JOB/at/%3Cscript%3Ealert(1)%3C%2Fscript%3E",
    "/jobs/JOB/papers?drawing=%3Cscript%3Ea",
]


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("language", ["en", "ja"])
def test_what_people_write_is_never_part_of_a_page(client, evil_job, place, language):
    answer = client.get(place.replace("JOB", str(evil_job)), headers={"accept-language": language})
    assert answer.status_code < 500
    assert "<script>alert" not in answer.text
    assert "<script>a" not in answer.text
    assert "49" not in answer.text.partition("alert(1)")[2][:60]


def test_what_changes_while_typing_is_escaped_too(client, evil_job):
    parts = client.get(f"/jobs/{evil_job}/at/site/parts").json()["parts"]
    assert all("<script>alert" not in str(part) for part in parts.values())


@pytest.mark.parametrize(
    "text",
    [
        'name = "Yard"\r\n# é 縁側\r\n',
        "",
        "name = ",
        "\n\nname = 'x'\n\n\n",
        "a = [" * 3000,
        "x = " + "9" * 6000,
        "# " + "é" * 400_000,
    ],
)
def test_a_file_is_given_out_as_it_was_taken_in_and_every_page_still_stands(client, text):
    answer = taken_in(client, text)
    assert answer.status_code == 303
    job = answer.headers["location"].split("/")[2]
    assert client.get(f"/jobs/{job}/job.toml").content == text.encode()
    for place in ("at/site", "texts", "past", "papers"):
        assert client.get(f"/jobs/{job}/{place}").status_code == 200


def test_the_file_of_a_job_is_offered_under_its_name(client):
    job = taken_in(client, 'name = "a/../b\\"; x=縁"').headers["location"].split("/")[2]
    held = client.get(f"/jobs/{job}/job.toml").headers["content-disposition"]
    assert held.startswith("attachment; filename=\"job.toml\"; filename*=UTF-8''")
    assert not set('/"; ') & set(held.partition("''")[2])


@pytest.mark.parametrize(
    ("raw", "status"),
    [(b"\x89PNG\r\n\x1a\n\xff\xfe", 422), (b"name = '\x00'", 422), (b"\xff\xfen\x00", 422), (b"x" * 1_100_000, 413)],
)
def test_what_is_no_text_is_refused_with_words(client, raw, status):
    answer = taken_in(client, raw, name="<b>picture.png")
    assert answer.status_code == status
    assert "<b>picture" not in answer.text


@pytest.mark.parametrize("name", ["", "   ", "a\nb", "x" * 81])
def test_a_job_needs_a_name_that_can_be_read(client, name):
    assert client.post("/jobs", data={"name": name}).status_code == 422
    job = client.post("/api/jobs", json={"name": "Yard"}).json()["job"]["number"]
    assert client.post(f"/api/jobs/{job}/copy", params={"name": name}).status_code == 422


@pytest.mark.parametrize(
    "back", ["//evil.example", "https://evil.example", "/\\evil.example", "/\t/evil.example", "javascript:alert(1)", ""]
)
def test_choosing_a_language_leads_nowhere_else(client, back):
    answer = client.post("/language", data={"language": "ja", "back": back})
    client.cookies.clear()
    target = answer.headers["location"]
    assert answer.status_code == 303
    assert target.startswith("/")
    assert not target.startswith(("//", "/\\", "/\t"))


def test_a_language_chosen_by_hand_is_stronger_than_the_browser(client):
    client.cookies.clear()
    assert 'lang="ja"' in client.get("/", headers={"accept-language": "ja,en;q=0.5"}).text[:60]
    assert 'lang="en"' in client.get("/", headers={"accept-language": "ja;q=0.2,en"}).text[:60]
    answer = client.post("/language", data={"language": "ja", "back": "/?search=x"})
    assert answer.headers["location"] == "/?search=x"
    assert 'lang="ja"' in client.get("/", headers={"accept-language": "en"}).text[:60]
    client.cookies.clear()


def test_a_job_that_is_not_there_is_told_by_every_page(client):
    for place in ("at/site", "papers", "past", "texts", "job.toml", "log.jsonl", "at/site/parts"):
        assert client.get(f"/jobs/9999/{place}").status_code == 404
    assert client.get("/api/jobs/9999/news").status_code == 404
