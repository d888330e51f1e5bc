"""What stands in the fields of one station: labels, what is typed, what would be taken, what is wrong."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from evenfoot.errors import Fault
from evenfoot.job import files, kinds
from evenfoot.office.desk.stations import KeyGroup, Station, stations
from evenfoot.office.desk.tree import LISTS, as_typed, columns_of, key_of, named, tree_of, value_at
from evenfoot.words import Speaker

_KINDS = files.KeyKind
_FIGURE = re.compile(r"-?\d+(\.\d+)?")
"""A figure in the unit of its key, before that unit."""
_NESTED = "site.station"
"""The list whose entries hold a list of rows themselves."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wrong:
    """A fault at a field: the sentence, and the nearest value that works, if one is known."""

    text: str
    nearest: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FormField:
    """One field: its place in the file, its label, what is typed, and what is taken when nothing is."""

    where: str
    label: str
    kind: str
    unit: str
    typed: str
    default: str
    choices: tuple[tuple[str, str], ...]
    is_many: bool
    wrong: Wrong | None


@dataclass(frozen=True, slots=True, kw_only=True)
class GridRow:
    """One row of a grid: its place in the file and its cells; ``inner`` is a grid that belongs to it."""

    where: str
    cells: tuple[FormField, ...]
    inner: Grid | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A list of the file as a table; ``blank`` is the row that adds one."""

    where: str
    label: str
    columns: tuple[str, ...]
    rows: tuple[GridRow, ...]
    blank: GridRow
    wrong: Wrong | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FormGroup:
    """Fields and grids that are looked at together."""

    code: str
    title: str
    fields: tuple[FormField, ...]
    grids: tuple[Grid, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Form:
    """One station's groups, and the faults that belong to no field of it: where they stand and what they say."""

    groups: tuple[FormGroup, ...]
    elsewhere: tuple[tuple[str, str], ...]


def form_of(text: str, station: Station, speaker: Speaker, *, faults: Sequence[Fault] = ()) -> Form:
    """Return the form of one station for a job text; ``faults`` are what reading and planning it found.

    A text that cannot be read gives a form with nothing typed, its fault elsewhere.
    """
    maker = _Maker(text, speaker, faults)
    groups = tuple(maker.group(group) for group in station.groups)
    return Form(groups=groups, elsewhere=maker.elsewhere())


def label_of(where: str, speaker: Speaker) -> str:
    """Return what a place in the job file is called, with the group that it stands in; the place itself if in none."""
    key = key_of(where)
    if where.startswith("shop.") or not speaker.knows(f"key.{key}"):
        return where
    label = speaker.say(f"key.{key}")
    for station in stations():
        for group in station.groups:
            if any(key == one or key.startswith(f"{one}.") for one in group.keys):
                return speaker.say("page.of-group", group=speaker.say(f"group.{group.code}"), label=label)
    return label


def home_of(where: str) -> tuple[str, str]:
    """Return the station at which a place of the job file is typed, and its field there; empty for none of the file.

    A place that holds others, such as ``floor``, is at home where the first of them is, and has no field.
    """
    key, facts = key_of(where), files.key_facts()
    for station in stations():
        for known in (one for group in station.groups for one in group.keys):
            if key == known or key.startswith(f"{known}."):
                fact = facts.get(key)
                return station.code, "" if fact is None else f"g-{key}" if fact.kind in LISTS else f"f-{where}"
    for station in stations():
        if any(one.startswith(f"{key}.") for group in station.groups for one in group.keys):
            return station.code, ""
    return "", ""


def fields_of(text: str, keys: Sequence[str], speaker: Speaker) -> tuple[FormField, ...]:
    """Return the fields of some keys, wherever they stand."""
    return _Maker(text, speaker, ()).fields(keys)


class _Maker:
    """Makes fields and remembers which faults have found their field."""

    def __init__(self, text: str, speaker: Speaker, faults: Sequence[Fault]) -> None:
        self._tree = tree_of(text)
        self._speaker = speaker
        self._faults = list(dict.fromkeys(faults))
        self._told: set[Fault] = set()
        unit, standard = self._tree.get("unit"), self._tree.get("standard")
        self._unit = str(unit) if _is_one_of(unit, kinds.Unit) else ""
        self._standard = kinds.Standard(str(standard)) if _is_one_of(standard, kinds.Standard) else kinds.Standard.JAPAN

    def group(self, group: KeyGroup) -> FormGroup:
        facts = files.key_facts()
        keys = [facts[key] for key in group.keys]
        return FormGroup(
            code=group.code,
            title=self._speaker.say(f"group.{group.code}"),
            fields=tuple(self._field(f.key, f, value_at(self._tree, f.key)) for f in keys if f.kind not in LISTS),
            grids=tuple(self._grid(f.key, f, value_at(self._tree, f.key)) for f in keys if f.kind in LISTS),
        )

    def fields(self, keys: Sequence[str]) -> tuple[FormField, ...]:
        """Return fields of keys that are no lists."""
        return tuple(self._field(key, files.key_facts()[key], value_at(self._tree, key)) for key in keys)

    def elsewhere(self) -> tuple[tuple[str, str], ...]:
        """Return the faults that no field has told."""
        return tuple((f.where, self._speaker.fault(f)) for f in self._faults if f not in self._told)

    def _field(self, where: str, fact: files.KeyFact, value: Any) -> FormField:  # noqa: ANN401 - whatever is written
        length = self._unit if fact.kind is _KINDS.LENGTH else ""
        typed = as_typed(value)
        is_spelled = bool(typed) and not typed.replace(".", "").lstrip("-").isdigit()
        return FormField(
            where=where,
            label=self._speaker.say(f"key.{fact.key}"),
            kind=fact.kind.value,
            unit="" if is_spelled else length or fact.unit,
            typed=typed,
            default=files.default_of(fact.key, self._standard),
            choices=tuple((word, self._choice(fact.key, word)) for word in fact.choices),
            is_many=fact.is_many,
            wrong=self._wrong(where, fact.kind),
        )

    def _choice(self, key: str, word: str) -> str:
        """Return how a choice is called: by its key where one word means two things, else by itself."""
        last = key.rpartition(".")[2]
        for code in (f"choice.{last}.{word}", f"species.{word}"):
            if self._speaker.knows(code):
                return self._speaker.say(code)
        return word

    def _wrong(self, where: str, kind: files.KeyKind) -> Wrong | None:
        is_within = kind in LISTS
        for fault in self._faults:
            fits = fault.where == where or (is_within and fault.where.startswith(f"{where}["))
            if fits and fault not in self._told:
                self._told.add(fault)
                bare = replace(fault, where="", line=None)
                return Wrong(text=self._speaker.fault(bare), nearest="" if is_within else _plain_nearest(fault, kind))
        return None

    def _grid(self, where: str, fact: files.KeyFact, value: Any) -> Grid:  # noqa: ANN401 - whatever is written
        entries = value if isinstance(value, list) else []
        rows = tuple(self._row(f"{where}[{index}]", fact, entry) for index, entry in enumerate(entries))
        return Grid(
            where=where,
            label=self._speaker.say(f"key.{fact.key}"),
            columns=tuple(self._speaker.say(f"key.{fact.key}.{name}") for name in columns_of(fact)),
            rows=rows,
            blank=self._row(f"{where}[{len(entries)}]", fact, {}, is_blank=True),
            wrong=self._wrong(where, fact.kind),
        )

    def _row(self, where: str, fact: files.KeyFact, entry: Any, *, is_blank: bool = False) -> GridRow:  # noqa: ANN401
        facts = files.key_facts()
        values = named(entry, fact)
        cells = tuple(
            self._field(f"{where}.{name}", facts[f"{fact.key}.{name}"], values.get(name)) for name in columns_of(fact)
        )
        inner = None
        if fact.key == _NESTED and not is_blank:
            inner = self._grid(f"{where}.readings", facts[f"{_NESTED}.readings"], values.get("readings"))
        return GridRow(where=where, cells=cells, inner=inner)


def _is_one_of(word: Any, kind: type[StrEnum]) -> bool:  # noqa: ANN401 - whatever is written
    return isinstance(word, str) and word in set(kind)


def _plain_nearest(fault: Fault, kind: files.KeyKind) -> str:
    """Return the nearest value as it would be typed into the field; nothing where it names a key or a unit alone."""
    nearest = fault.nearest.strip("[]")
    is_word = kind in {_KINDS.TEXT, _KINDS.CHOICE, _KINDS.YES_NO}
    if fault.code in {"key-unknown", "name-twice"} or not (is_word or any(letter.isdigit() for letter in nearest)):
        return ""
    figure = _FIGURE.match(nearest) if kind in {_KINDS.FIGURE, _KINDS.WHOLE} else None
    return figure[0] if figure else nearest
