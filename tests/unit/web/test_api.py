"""The API answers as its own description says, whatever is sent to it; every error has the one shape."""

from __future__ import annotations

import pytest
import schemathesis
from hypothesis import HealthCheck, given, seed, settings
from hypothesis import strategies as st
from starlette.testclient import TestClient

from evenfoot.web import Settings, make_app
from evenfoot.web.api import shapes

pytestmark = pytest.mark.slow

OWN = {"sec-fetch-site": "same-origin"}


@pytest.fixture(scope="module")
def app(tmp_path_factory):
    store = tmp_path_factory.mktemp("api") / "jobs.db"
    return make_app(Settings(store_url=f"sqlite:///{store}", hands=1))


@pytest.fixture(scope="module")
def client(app):
    with TestClient(app, base_url="http://localhost", client=("127.0.0.1", 5), headers=OWN) as found:
        for _ in range(3):
            found.post("/api/jobs", json={"name": "Yard"})
        yield found


@pytest.fixture(scope="module")
def operations(app):
    # A stream of news has no end, and an errand needs a process of its own: both have tests of their own.
    schema = schemathesis.openapi.from_dict(app.openapi()).exclude(path_regex="news$|errands$")
    return [found.ok() for found in schema.get_all_operations()]


def send(client, case):
    """Send a case to the app itself; what cannot be sent at all is left out."""
    sent = case.as_transport_kwargs(base_url="http://localhost")
    wanted = {key: value for key, value in sent.items() if key in {"method", "url", "params", "json", "data"}}
    return client.request(**{key: value for key, value in wanted.items() if value is not None}, headers=OWN)


def test_every_answer_is_one_that_is_described_whatever_is_sent(client, operations):
    assert len(operations) > 20
    for operation in operations:
        try_out(client, operation)


def try_out(client, operation):
    described = {str(code) for code in operation.definition.raw["responses"]}

    @seed(7)
    @settings(max_examples=8, deadline=None, database=None, suppress_health_check=list(HealthCheck))
    @given(case=operation.as_strategy(), job=st.integers(1, 4))
    def tried(case, job):
        if "job" in case.path_parameters:
            case.path_parameters["job"] = job
        answer = send(client, case)
        told = (case.method, case.path, case.path_parameters, str(case.body)[:300], answer.text[:300])
        assert str(answer.status_code) in described, told
        if answer.status_code >= 400:
            shapes.ErrorOut.model_validate(answer.json())

    tried()


def test_the_description_tells_every_fault_in_one_shape(app):
    described = app.openapi()
    for path, methods in described["paths"].items():
        for method, told in methods.items():
            for code, answer in told["responses"].items():
                if code.startswith(("4", "5")):
                    kept = answer["content"]["application/json"]["schema"]
                    assert kept == {"$ref": "#/components/schemas/ErrorOut"}, (method, path, code)
