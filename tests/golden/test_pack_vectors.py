"""The cases that the phone is held to are still what the engine answers."""

from __future__ import annotations

import json
import math
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from pack_vectors import FOLDER, MAKES, SLOW


def differences(found, wanted, place=""):
    if isinstance(wanted, float | int) and not isinstance(wanted, bool) and isinstance(found, float | int):
        # Another machine's linear algebra sums in another order.
        return [] if math.isclose(found, wanted, rel_tol=1e-8, abs_tol=1e-6) else [f"{place}: {found}, kept {wanted}"]
    if isinstance(wanted, dict) and isinstance(found, dict) and wanted.keys() == found.keys():
        return [line for key in wanted for line in differences(found[key], wanted[key], f"{place}.{key}")]
    if isinstance(wanted, list) and isinstance(found, list) and len(wanted) == len(found):
        return [line for k, one in enumerate(wanted) for line in differences(found[k], one, f"{place}.{k}")]
    return [] if found == wanted else [f"{place}: {found}, kept {wanted}"]


@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=pytest.mark.slow) if name in SLOW else name for name in MAKES]
)
def test_the_engine_still_answers_as_the_phone_is_told(name):
    kept = json.loads((FOLDER / f"{name}.json").read_text(encoding="utf-8"))
    found = json.loads(json.dumps(MAKES[name]()))
    assert not differences(found, kept)[:20]


def test_a_difference_would_be_seen():
    assert differences({"a": [1.0, 2.0]}, {"a": [1.0, 2.1]}) == [".a.1: 2.0, kept 2.1"]
    assert differences([1], [1, 2]) == [": [1], kept [1, 2]"]
