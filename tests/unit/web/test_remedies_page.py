"""Remedies are sought as long work, shown with their price, and taken over as an edit; faults lead to their fields."""

from __future__ import annotations

import html
import json
import re
import time

import pytest
from starlette.testclient import TestClient

from evenfoot.errors import Fault
from evenfoot.office import desk
from evenfoot.web import Settings, make_app
from evenfoot.web.pages.faulty import faults_shown
from evenfoot.words import Language, Speaker

pytestmark = pytest.mark.slow

OWN = {"sec-fetch-site": "same-origin"}


@pytest.fixture(scope="module")
def client(tmp_path_factory):
    store = tmp_path_factory.mktemp("remedies") / "jobs.db"
    app = make_app(Settings(store_url=f"sqlite:///{store}", hands=1))
    with TestClient(app, base_url="http://localhost", client=("127.0.0.1", 5), headers=OWN) as found:
        yield found


def over(client, errand):
    end = time.monotonic() + 120
    while errand["state"] in {"waiting", "at-work"} and time.monotonic() < end:
        time.sleep(0.1)
        errand = client.get(f"/api/errands/{errand['token']}").json()
    return errand


@pytest.fixture(scope="module")
def sought(client):
    job = client.post("/api/jobs", json={"example": "library-terrace"}).json()["job"]["number"]
    errand = client.post(f"/api/jobs/{job}/remedies").json()
    return job, over(client, errand)


def test_what_passes_can_be_taken_over_undone_and_is_no_longer_short(client, sought):
    job, errand = sought
    assert (errand["state"], errand["stage"]) == ("done", "done")
    told = client.get(f"/api/errands/{errand['token']}/remedies").json()
    assert told["digest"] == client.get(f"/api/jobs/{job}").json()["digest"]
    (beams,) = [one for one in told["remedies"] if one["part"] == "beams"]
    cheapest = next(one for one in beams["tried"] if one["is_cheapest"])
    made = client.post(f"/api/jobs/{job}/changes", json={"over": told["digest"], "changes": cheapest["changes"]})
    assert made.json()["clashes"] == []
    again = over(client, client.post(f"/api/jobs/{job}/remedies").json())
    left = client.get(f"/api/errands/{again['token']}/remedies").json()["remedies"]
    assert "beams" not in {one["part"] for one in left}
    assert client.post(f"/api/jobs/{job}/undo").json()["digest"] == told["digest"]


@pytest.mark.parametrize("language", ["en", "ja"])
def test_the_part_of_the_page_holds_what_a_press_would_type(client, sought, language):
    job, errand = sought
    told = client.get(f"/api/errands/{errand['token']}/remedies").json()
    part = client.get(f"/jobs/{job}/remedies/{errand['token']}", headers={"accept-language": language}).text
    held = [json.loads(html.unescape(text)) for text in re.findall(r'data-changes="([^"]*)"', part)]
    assert held == [t["changes"] for one in told["remedies"] for t in one["tried"] if t["passes"]]
    assert "+JPY 64,616" in part
    assert f'data-over="{told["digest"]}"' in part


def test_files_are_no_remedies_and_remedies_no_files(client, sought):
    _, errand = sought
    answer = client.get(f"/api/errands/{errand['token']}/files")
    assert (answer.status_code, answer.json()["error"]["faults"][0]["code"]) == (404, "errand-other")


@pytest.fixture(scope="module")
def broken(client):
    begun = client.post("/api/jobs", json={"name": "Yard"}).json()
    job = begun["job"]["number"]
    changes = {"floor.depth": "-5", "site.levels[2].z": "deep"}
    client.post(f"/api/jobs/{job}/changes", json={"over": begun["digest"], "changes": changes})
    return job


WAYS = ("/at/floor#f-floor.depth", "/at/site#f-site.levels[2].z")


def test_papers_of_a_job_that_does_not_plan_tell_why_and_lead_to_the_fields(client, broken):
    page = html.unescape(client.get(f"/jobs/{broken}/papers").text)
    for way in WAYS:
        assert f'href="/jobs/{broken}{way}"' in page
        station, _, field = way.partition("#")
        assert f'id="{field}"' in html.unescape(client.get(f"/jobs/{broken}{station}").text)


def test_remedies_of_a_job_that_does_not_plan_tell_why(client, broken):
    errand = over(client, client.post(f"/api/jobs/{broken}/remedies").json())
    assert errand["state"] == "wrong"
    part = html.unescape(client.get(f"/jobs/{broken}/remedies/{errand['token']}").text)
    assert all(f'href="/jobs/{broken}{way}"' in part for way in WAYS)


@pytest.mark.parametrize(
    ("where", "way"),
    [
        ("floor", "/at/floor"),
        ("frame.beam", "/at/frame"),
        ("site.obstacle[0]", "/at/site#g-site.obstacle"),
        ("shop.kerf", "/texts#shop"),
        ("A1-4", "/at/frame"),
    ],
)
def test_a_fault_without_a_field_of_its_own_leads_as_near_as_can_be(where, way):
    ((text, found),) = faults_shown(7, [Fault(where=where, code="key-missing")] * 2, Speaker(Language.ENGLISH))
    assert found == f"/jobs/7{way}"
    assert text


def test_every_key_of_every_station_is_at_home_there():
    for station in desk.stations():
        for key in (key for group in station.groups for key in group.keys):
            assert desk.home_of(key)[0] == station.code
