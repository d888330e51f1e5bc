"""How a job file is begun, and changed without touching what nobody asked to change."""

from __future__ import annotations

from importlib.resources import files

import tomlkit

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.job.file.fields import nearest_word
from evenfoot.job.kinds import Standard

LANGUAGES = ("en", "ja")


def job_template(standard: Standard | str, language: str, *, name: str = "new floor") -> str:
    """Return the commented job file that a new job begins with; it plans as it stands.

    Remarks are in ``language`` (en or ja). Raises: OutOfRangeError ``not-a-choice`` for another standard or language.
    """
    if language not in LANGUAGES:
        raise OutOfRangeError(_choice("language", language, LANGUAGES))
    if standard not in set(Standard):
        raise OutOfRangeError(_choice("standard", str(standard), tuple(Standard)))
    path = files("evenfoot.job") / "data" / f"template-{Standard(standard)}.toml"
    kept: list[str] = []
    for line in path.read_text(encoding="utf-8").splitlines():
        if line.startswith(f"#{language}:"):
            kept.append(f"#{line[4:]}")
        elif not line.startswith(tuple(f"#{other}:" for other in LANGUAGES)):
            kept.append(line)
    return "\n".join(kept).replace('"@name@"', tomlkit.string(name).as_string()) + "\n"


def _choice(where: str, found: str, allowed: tuple[str, ...]) -> Fault:
    return Fault(
        where=where, code="not-a-choice", found=found, allowed=", ".join(allowed), nearest=nearest_word(found, allowed)
    )
