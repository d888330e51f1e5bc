"""Plans of the texts that a page holds, kept for the jobs that were looked at last."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, replace

from evenfoot.errors import EvenfootError, Fault
from evenfoot.job import Log, Shop, files, kinds, read_shop
from evenfoot.plan import Memory, Plan, make_plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Texts:
    """One job as the page keeps it: the texts of its files. An empty shop text is the sample shop of the standard."""

    job: str
    shop: str = ""
    log: tuple[str, ...] = ()


class Desk:
    """Plans the texts of many jobs; remembers only the jobs that were looked at last."""

    def __init__(self, *, jobs: int = 12, plans: int = 24) -> None:
        """Take how many jobs' stages and how many plans are kept."""
        self._memories: OrderedDict[int, Memory] = OrderedDict()
        self._plans: OrderedDict[Texts, Plan | EvenfootError] = OrderedDict()
        self._jobs, self._kept = jobs, plans

    def plan(self, job: int, texts: Texts, *, on_stage: Callable[[str], None] | None = None) -> Plan:
        """Return the plan of the texts of job number ``job``.

        Raises: EvenfootError with every fault of the texts, each with its place.
        """
        found = self._plans.get(texts)
        if found is None:
            try:
                found = self._make(job, texts, on_stage)
            except EvenfootError as error:
                found = error.with_traceback(None)
            self._plans[texts] = found
        self._plans.move_to_end(texts)
        while len(self._plans) > self._kept:
            self._plans.popitem(last=False)
        if isinstance(found, EvenfootError):
            raise type(found)(*found.faults)
        return found

    def _make(self, job: int, texts: Texts, on_stage: Callable[[str], None] | None) -> Plan:
        wanted = files.parse_job(texts.job)
        shop, log = shop_of(texts, wanted.standard), log_of(texts)
        try:
            return make_plan(wanted, shop, log, memory=self._memory(job), on_stage=on_stage)
        except EvenfootError as error:
            raise type(error)(*files.located(error.faults, texts.job)) from error

    def _memory(self, job: int) -> Memory:
        memory = self._memories.setdefault(job, Memory())
        self._memories.move_to_end(job)
        while len(self._memories) > self._jobs:
            self._memories.popitem(last=False)
        return memory


def shop_of(texts: Texts, standard: kinds.Standard) -> Shop:
    """Return the shop of the texts; raises JobFileError whose places begin with ``shop``."""
    if not texts.shop.strip():
        return read_shop(None, standard=standard)
    try:
        return files.parse_shop(texts.shop)
    except EvenfootError as error:
        raise type(error)(*(replace(f, where=f"shop.{f.where}") for f in error.faults)) from error


def log_of(texts: Texts) -> Log:
    """Return the log of the texts."""
    return files.parse_log("".join(f"{line}\n" for line in texts.log))


def text_faults(texts: Texts) -> tuple[Fault, ...]:
    """Return every fault of the job's and the shop's text."""
    found: list[Fault] = []
    standard = kinds.Standard.JAPAN
    try:
        standard = files.parse_job(texts.job).standard
    except EvenfootError as error:
        found += error.faults
    try:
        shop_of(texts, standard)
    except EvenfootError as error:
        found += error.faults
    return tuple(found)
