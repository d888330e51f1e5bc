"""Two programs over one store tell their pages of each other's changes, on both databases."""

from __future__ import annotations

import http.client
import json
import subprocess
import sys
import time
from contextlib import closing, contextmanager

import pytest

pytestmark = pytest.mark.slow


@contextmanager
def served(url):
    """The real command over a store; gives its port."""
    command = [sys.executable, "-m", "evenfoot", "serve", "--store", url, "--port", "0", "--hands", "1", "--json"]
    work = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    try:
        yield int(json.loads(work.stdout.readline())["address"].rstrip("/").rpartition(":")[2])
    finally:
        work.terminate()
        work.wait(30)


def ask(port, method, path, **body):
    with closing(http.client.HTTPConnection("localhost", port, timeout=60)) as link:
        headers = {"Content-Type": "application/json", "Origin": f"http://localhost:{port}"}
        link.request(method, f"/api{path}", json.dumps(body) if method != "GET" else None, headers)
        answer = link.getresponse()
        told = json.loads(answer.read())
        assert answer.status < 400, told
        return told


@contextmanager
def listening(port, job):
    """A line of news; gives what reads its next event that is no breath."""
    with closing(http.client.HTTPConnection("localhost", port, timeout=30)) as link:
        link.request("GET", f"/api/jobs/{job}/news")
        answer = link.getresponse()

        def following():
            event = ""
            end = time.monotonic() + 30
            while time.monotonic() < end:
                line = answer.readline().decode().strip()
                if line.startswith("event:"):
                    event = line.partition(":")[2].strip()
                if line.startswith("data:") and event != "breath":
                    return event, json.loads(line.partition(":")[2])
            raise TimeoutError

        yield following


def test_what_one_program_changes_is_told_by_the_other(url):
    with served(url) as here, served(url) as there:
        begun = ask(here, "POST", "/jobs", name="Yard")
        job = begun["job"]["number"]
        with listening(there, job) as following, listening(here, job) as own:
            first = ("state", {"digest": begun["digest"], "lines": 0})
            assert following() == own() == first
            made = ask(here, "POST", f"/jobs/{job}/changes", over=begun["digest"], changes={"floor.drop": "25"})
            second = ("state", {"digest": made["state"]["digest"], "lines": 0})
            assert following() == own() == second
            line = '{"time": "2026-11-20T08:00:00", "what": "distance", "mark": "1-2", "value_mm": 3600}'
            assert ask(here, "POST", f"/jobs/{job}/log", lines=[line])["added"] == 1
            third = ("log", {"digest": made["state"]["digest"], "lines": 1})
            assert following() == own() == third
            undone = ask(there, "POST", f"/jobs/{job}/undo")
            assert own() == following() == ("state", {"digest": undone["digest"], "lines": 1})
