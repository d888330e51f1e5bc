"""The order of the trade as recorded: nothing is named before it stands, and every row of labour has a home."""

from __future__ import annotations

import pytest

from evenfoot.tables import labour, steps
from evenfoot.words import catalogue


def test_steps_stand_after_those_they_name():
    seen: set[str] = set()
    for step in steps.trade_steps():
        assert set(step.after) <= seen, step.id
        assert step.id not in seen
        seen.add(step.id)


@pytest.mark.parametrize("step", steps.trade_steps(), ids=lambda s: s.id)
def test_steps_and_cautions_are_said(step):
    assert f"step.{step.id}" in catalogue()
    assert all(f"caution.{c}" in catalogue() for c in step.cautions)


def test_every_task_of_the_labour_table_belongs_to_a_step():
    named = {task for step in steps.trade_steps() for task in step.tasks}
    assert {rate.task for rate in labour.rates()} == named
