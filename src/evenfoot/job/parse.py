"""The readers of job files: text in, a checked job out, or every fault at once."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from pydantic import ValidationError

from evenfoot.errors import Fault, JobFileError
from evenfoot.job.build import build_job
from evenfoot.job.file.defaults import with_defaults
from evenfoot.job.file.faults import faults_of, located, parsed, without
from evenfoot.job.file.sense import NEEDS
from evenfoot.job.file.tables import JobFile
from evenfoot.job.file.text import Tree, read_text, read_tree
from evenfoot.job.kinds import Standard, Unit
from evenfoot.job.model import Job


def read_job(path: Path | str) -> Job:
    """Return the job in the file at ``path``; a job without a name takes the file's, or the folder's of a job.toml.

    Raises: JobFileError with every fault of the file, each with its path and line.
    """
    path = Path(path)
    name = path.resolve().parent.name if path.stem == "job" else path.stem
    return parse_job(read_text(path), name=name or "job")


def parse_job(text: str, name: str = "job") -> Job:
    """Return the job in a TOML text; ``name`` is used when it has no name of its own.

    Raises: JobFileError with every fault of the text, each with its path and line.
    """
    tree = {"name": name} | read_tree(text, where=name)
    file, faults = _checked(tree)
    if file is None:
        _, more = _checked(without(tree, faults))
        sound = [fault for fault in faults if not _hangs_on(fault, faults)]
        sound += [fault for fault in more if not _is_about(fault, faults) and not _hangs_on(fault, faults)]
        raise JobFileError(*located(sound, text))
    return build_job(file)


def _checked(tree: Tree) -> tuple[JobFile | None, list[Fault]]:
    whole = with_defaults(tree, _known_standard(tree))
    try:
        return JobFile.model_validate(whole, context={"unit": known_unit(tree)}), []
    except ValidationError as error:
        return None, faults_of(error, JobFile)


def _hangs_on(fault: Fault, faults: list[Fault]) -> bool:
    """Return whether a disagreement rests on a key that is itself at fault."""
    needs = NEEDS.get(fault.code, ())
    return any(first is not fault and first.where.startswith(needs) for first in faults) if needs else False


def _is_about(fault: Fault, faults: list[Fault]) -> bool:
    """Return whether a fault of the second look only comes from what was taken out of the first."""
    here = parsed(fault.where)
    return any(parsed(first.where)[: len(here)] == here for first in faults)


def known_unit(tree: Tree) -> str | None:
    """Return the file's unit when it is one; None leaves every length unread."""
    unit = tree.get("unit")
    return unit if isinstance(unit, str) and unit in set(Unit) else None


def _known_standard(tree: dict[str, Any]) -> Standard:
    """Return the file's standard, or any other for a file that will be refused for it."""
    standard = tree.get("standard")
    if isinstance(standard, str) and standard in set(Standard):
        return Standard(standard)
    return Standard.JAPAN
