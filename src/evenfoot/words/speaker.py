"""One speaker per language and unit: codes and facts in, sentences out."""

from __future__ import annotations

import re
import string
import tomllib
import unicodedata
from collections.abc import Mapping, Sequence
from enum import StrEnum
from functools import cache
from importlib.resources import files
from typing import Any

from evenfoot.checks import Check
from evenfoot.errors import Fault
from evenfoot.units import format_length, measure

IROHA = "いろはにほへとちりぬるをわかよたれそつねならむうゐのおくやまけふこえてあさきゆめみしゑひもせす"
JOINT = re.compile(r"\b([A-Z]+\d+)([+-]?)\.([a-z]+(?:-[a-z]+)*)")
"""A joint's mark: the grid lines that cross, the side where two ends meet, and the kind (``A1+.lap-over``)."""
SPARE = re.compile(r"\bspare(\d+)\b")
"""A spare piece, which belongs to no place."""
SIDES = {"": "mark.joint", "+": "mark.joint-far", "-": "mark.joint-near"}
IROHA_LETTER = re.compile(f"[{IROHA}]")
MARK_FACTS = frozenset({"mark", "marks", "other", "place"})
"""Facts of a finding that hold marks, several of them joined by commas."""
ON_PAGE = "page-instead."
"""Begins the codes that are said on the page instead of others, where a command would name its options."""
STANDS_FREE = "free-instead."
"""Begins the codes that are said instead of others of a floor that stands free, where another stands at a house."""
TYPED = "typed"
"""Begins the place of what was typed on site: ``typed.gaps.A1``; each name is ``typed.<name>`` in the catalogue."""
_WHOLE_FROM = 10.0
"""From here on a value in pounds or psi is written whole."""
_WHOLE_KN = 10_000.0
"""From here on a force is written in kN [N]."""


class Language(StrEnum):
    """The languages that Evenfoot speaks."""

    ENGLISH = "en"
    JAPANESE = "ja"


@cache
def catalogue() -> Mapping[str, Mapping[str, str]]:
    """Return every entry of the catalogue: code to language to text.

    Each file under ``catalogue/`` holds tables ``[group.code]`` with ``en`` and ``ja`` side by side.
    """
    entries: dict[str, Mapping[str, str]] = {}
    folder = files("evenfoot.words") / "catalogue"
    for path in sorted(folder.iterdir(), key=lambda p: p.name):
        if path.name.endswith(".toml"):
            _collect("", tomllib.loads(path.read_text(encoding="utf-8")), entries)
    return entries


def _collect(prefix: str, table: Mapping[str, Any], entries: dict[str, Mapping[str, str]]) -> None:
    if "en" in table and isinstance(table["en"], str):
        assert prefix not in entries, f"{prefix} stands in two catalogue files"
        entries[prefix] = {language: table[language] for language in ("en", "ja") if language in table}
        return
    for key, inner in table.items():
        _collect(f"{prefix}.{key}" if prefix else key, inner, entries)


def said_instead(code: str, instead: Sequence[str]) -> str:
    """Return the code that is said for another: the first known that begins with one of ``instead``, else itself."""
    return next((way for first in instead if (way := f"{first}{code}") in catalogue()), code)


class Speaker:
    """Says codes and facts in one language, lengths in one unit."""

    def __init__(
        self, language: Language = Language.ENGLISH, unit: str = "mm", *, instead: tuple[str, ...] = ()
    ) -> None:
        """Take a language and a unit of ``units.format_length``: mm, m, in, ft or shaku.

        ``instead`` are beginnings of codes that are said instead of others, such as ``ON_PAGE``; the first that is
        known counts.
        """
        self.language = language
        self.unit = unit
        self.instead = instead

    def say(self, code: str, **facts: str | float) -> str:
        """Return the text of ``code`` with its placeholders filled.

        A fact ending in ``_mm`` is a length [mm] and is written in the speaker's unit; ``_fine`` is a small move
        [mm], ``_n`` a force [N], both written with their unit. One ending in ``_code`` is itself a code and fills the
        placeholder without that ending; other numbers get up to four figures.
        """
        text = catalogue()[said_instead(code, self.instead)][self.language]
        wanted = _placeholders(text)
        said = {name: self._fact(name, value) for name, value in facts.items() if name in wanted}
        for name in wanted - said.keys():
            said[name] = self._fact(f"{name}_code", facts[f"{name}_code"])
        return text.format(**said)

    def knows(self, code: str) -> bool:
        """Return whether the catalogue holds ``code``."""
        return code in catalogue()

    def length(self, mm: float) -> str:
        """Return a length [mm] in the speaker's unit, to 0.5 mm or its like."""
        return format_length(mm, unit=self.unit)

    def check(self, check: Check) -> str:
        """Return a finding as one sentence with its reason and remedy."""
        facts: dict[str, str | float] = {name: self._marked(check, name, value) for name, value in check.facts}
        facts.setdefault("subject", self.mark(check.subject))
        facts.setdefault("place", self.mark(check.place))
        facts.setdefault("unit", measure(check.unit, length_unit=self.unit)[0])
        for name in ("demand", "capacity", "ratio"):
            value = getattr(check, name)
            if value is not None:
                facts.setdefault(name, value if name == "ratio" else self._measured(value, check.unit))
                facts.setdefault(f"{name}_mm", value)
        parts = [self.say(f"check.{check.rule}", **facts)]
        if check.reason:
            parts.append(self.say(f"reason.{check.reason}", **facts))
        if check.remedy:
            parts.append(self.say(f"remedy.{check.remedy}", **facts))
        return ("" if self.language is Language.JAPANESE else " ").join(parts)

    def fault(self, fault: Fault) -> str:
        """Return a fault in the shape: where, what was found, what is allowed, do this."""
        place = self._place(fault.where)
        if fault.line is not None:
            place = self.say("fault.place", where=fault.where, line=fault.line)
        said = self.say(
            f"fault.{fault.code}",
            where=fault.where,
            found=fault.found,
            allowed=fault.allowed,
            nearest=fault.nearest,
        )
        return self.say("fault.shape", place=place, said=said) if place else said

    def _place(self, where: str) -> str:
        """Return a place of what was typed on site as its field is called; any other as it is."""
        first, _, rest = where.partition(".")
        name, _, mark = rest.partition(".")
        if first != TYPED:
            return where
        return self.say(f"{TYPED}.{name}", mark=self.mark(mark)) if name else ""

    def mark(self, mark: str) -> str:
        """Return marks as this language's carpenters write them.

        The kind behind a joint's dot is said in words, and in Japanese grid letters become i-ro-ha. Everything else,
        such as the pieces of a row of boards (``b7.2``), stays as it is.
        """
        said = SPARE.sub(lambda found: self.say("mark.spare", number=found[1]), JOINT.sub(self._joint, mark))
        return _to_iroha(said) if self.language is Language.JAPANESE else said

    def typed_mark(self, typed: str) -> str:
        """Return a mark as it is kept, from one typed in full or half width, letters or i-ro-ha: ``い１`` is A1."""
        return _from_iroha(unicodedata.normalize("NFKC", typed.strip()))

    def _joint(self, found: re.Match[str]) -> str:
        """Return a joint by its place, kind and side; a kind that the catalogue does not know stays as it is."""
        place, side, kind = found.groups()
        code = f"joint-kind.{kind}"
        return self.say(SIDES[side], at=place, kind_code=code) if self.knows(code) else found[0]

    def _marked(self, check: Check, name: str, value: str | float) -> str | float:
        """Return a fact of a finding, marks as they are written. Names of nails (N50) look like marks and are none."""
        is_mark = name in MARK_FACTS and not check.rule.startswith("fixing")
        return self.mark(value) if is_mark and isinstance(value, str) else value

    def _measured(self, value: float, unit: str) -> float:
        """Return a value kept in ``unit`` in the one that is written, whole where that is fine enough."""
        scale = measure(unit, length_unit=self.unit)[1]
        written = value * scale
        return written if scale == 1.0 or abs(written) < _WHOLE_FROM else round(written)

    def _force(self, newtons: float) -> str:
        """Return a force with its unit: lb beside inches, else N, or kN from 10 kN up."""
        unit, written = measure("N", length_unit=self.unit)[0], self._measured(newtons, "N")
        if unit == "N" and abs(written) >= _WHOLE_KN:
            return f"{written / 1000.0:.4g} kN"
        return f"{self._fact('', written)} {unit}"

    def _fact(self, name: str, value: str | float) -> str:
        if isinstance(value, str):
            return self.say(value) if name.endswith("_code") else value
        if name.endswith("_mm"):
            return self.length(value)
        if name.endswith("_n"):
            return self._force(value)
        if name.endswith("_fine"):
            return f"{value / 25.4:.2f} in" if self.unit in {"in", "ft"} else f"{value:.4g} mm"
        if isinstance(value, int):
            return str(value)
        return f"{value:.4g}"


@cache
def _placeholders(text: str) -> frozenset[str]:
    """Return the names that a text wants filled."""
    return frozenset(name for _, name, _, _ in string.Formatter().parse(text) if name)


def _to_iroha(mark: str) -> str:
    """Return ``mark`` with each run of capital letters (A, B .. Z, AA ..) as its i-ro-ha letter."""
    out: list[str] = []
    run = ""
    for character in f"{mark}\0":
        if "A" <= character <= "Z":
            run += character
            continue
        if run:
            out.append(_iroha_label(run))
            run = ""
        out.append(character)
    return "".join(out)[:-1]


def _from_iroha(mark: str) -> str:
    """Return ``mark`` with each i-ro-ha letter as capital letters (the 47 of the first turn)."""
    return IROHA_LETTER.sub(lambda found: _letters(IROHA.index(found[0])), mark)


def _letters(index: int) -> str:
    """Return the capital letters that count to ``index`` from zero: A, B .. Z, AA .."""
    out, index = "", index + 1
    while index:
        index, place = divmod(index - 1, 26)
        out = chr(ord("A") + place) + out
    return out


def _iroha_label(letters: str) -> str:
    index = 0
    for letter in letters:
        index = index * 26 + ord(letter) - ord("A") + 1
    turns, place = divmod(index - 1, len(IROHA))
    return IROHA[place] + (str(turns + 1) if turns else "")
