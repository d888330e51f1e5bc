"""What a new job on the page begins with: a blank that plans, or a shipped example; and the typeface of the house."""

from __future__ import annotations

from importlib.resources import files as resources

from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.job import files
from evenfoot.office.desk.reckoning import Texts
from evenfoot.words import Language


def example_names() -> tuple[str, ...]:
    """Return the names of the shipped jobs."""
    folder = resources("evenfoot.office") / "examples"
    return tuple(sorted(one.name for one in folder.iterdir() if (one / "job.toml").is_file()))


def example_job(name: str) -> Texts:
    """Return a shipped job with its log; raises OutOfRangeError ``not-a-choice``."""
    names = example_names()
    if name not in names:
        fault = Fault(where="example", code="not-a-choice", found=name, allowed=", ".join(names), nearest=names[0])
        raise OutOfRangeError(fault)
    folder = resources("evenfoot.office") / "examples" / name
    log = folder / "log.jsonl"
    lines = log.read_text(encoding="utf-8").splitlines() if log.is_file() else []
    text = (folder / "job.toml").read_text(encoding="utf-8")
    return Texts(job=text, log=tuple(line for line in lines if line.strip()))


def blank_job(name: str, standard: str, language: Language) -> Texts:
    """Return a job that plans at once and is made to be changed; raises OutOfRangeError ``not-a-choice``."""
    return Texts(job=files.job_template(standard, language, name=name))


def typeface(*, is_bold: bool) -> bytes:
    """Return the typeface that the drawings are set in, as TrueType."""
    name = f"BIZUDPGothic-{'Bold' if is_bold else 'Regular'}.ttf"
    return (resources("evenfoot.ink") / "fonts" / name).read_bytes()
