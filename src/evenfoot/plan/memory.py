"""What was reckoned before: each stage is remembered by the inputs that it was given, and by nothing else."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from typing import Any, TypeVar

Result = TypeVar("Result")

_KEPT = 8
"""Results kept of each stage; an undo or a second variant finds its plan still here."""


class Memory:
    """A small memory of stages.

    A stage is found again when its values are equal and its earlier results are the very same objects. A stage
    only ever receives what is in its key, so a remembered result cannot be stale. A stage that comes to what it last
    came to hands back that very object: what follows from it is found again too.
    """

    def __init__(self) -> None:
        """Start with nothing remembered."""
        self._stages: dict[str, OrderedDict[tuple[Any, ...], tuple[tuple[Any, ...], Any]]] = {}

    def recall(
        self,
        stage: str,
        work: Callable[..., Result],
        *,
        values: tuple[Any, ...],
        results: tuple[Any, ...] = (),
    ) -> Result:
        """Return ``work(*values, *results)``, from memory when the same stage had the same inputs.

        ``values`` are compared by value (hashable), ``results`` of earlier stages by identity.
        """
        known = self._stages.setdefault(stage, OrderedDict())
        key = (values, tuple(id(r) for r in results))
        if key in known:
            known.move_to_end(key)
            found: Result = known[key][1]
            return found
        result = work(*values, *results)
        if known:
            _, last = next(reversed(known.values()))
            result = last if result == last else result
        known[key] = (results, result)
        if len(known) > _KEPT:
            known.popitem(last=False)
        return result
