"""What is asked on site, from the page: readings typed beside their marks in, the answer and new log lines out."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from evenfoot.errors import EvenfootError, Fault, OutOfRangeError
from evenfoot.office import setting
from evenfoot.office.desk.reckoning import Texts
from evenfoot.plan import Plan
from evenfoot.words import ON_PAGE, TYPED, Language, Speaker

Pairs = tuple[tuple[str, str], ...]
_CORNERS = 4
"""Corners of a floor whose sides and diagonals are asked for one by one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """A question on site: which one, what was typed under which name (mark and text), whether doubts were heard."""

    what: str
    typed: Mapping[str, Pairs]
    is_sure: bool = False
    who: str = ""

    def pairs(self, name: str) -> Pairs:
        """Return what was typed under a name, empty fields left out."""
        return tuple((mark, text.strip()) for mark, text in self.typed.get(name, ()) if text.strip())

    def in_turn(self, name: str, count: int) -> tuple[str, ...]:
        """Return ``count`` texts in the order of their marks, ``?`` for one that was not measured; empty for none."""
        found = dict(self.pairs(name))
        return tuple(found.get(str(n), "?") for n in range(1, count + 1)) if found else ()


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteAnswer:
    """The answer: at most three lines for the hand, the detail, and the log lines that the readings became."""

    what: str
    lines: tuple[str, ...]
    detail: tuple[str, ...]
    is_fine: bool
    new_lines: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SitePost:
    """One post to be read: its mark, the length it is planned to be cut to, and what the log holds of it."""

    mark: str
    said: str
    planned: str
    readings: Mapping[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class SiteForm:
    """What can be read on site: questions for sides and diagonals, the posts, the number of rows, the log in words."""

    square: Pairs
    posts: tuple[SitePost, ...]
    rows: int
    log: tuple[str, ...]


def site_form(plan: Plan, speaker: Speaker) -> SiteForm:
    """Return what the page asks for on site."""
    square = tuple(
        (option, text) for option, text in setting.square_questions(setting.Asked(language=speaker.language))
    )
    return SiteForm(
        square=square,
        posts=tuple(
            SitePost(
                mark=cut.mark,
                said=speaker.mark(cut.mark),
                planned=speaker.length(cut.length) if cut.is_cut else "",
                readings={what: _last(plan, what, cut.mark, speaker) for what in _READ_OF_POSTS},
            )
            for cut in plan.posts.cuts
        ),
        rows=len(plan.layout.rows),
        log=tuple(_said(plan, index, speaker) for index in range(len(plan.log.lines))),
    )


_READ_OF_POSTS = ("frame-rod", "post-gap", "post-length", "foot-gap")


def _last(plan: Plan, what: str, mark: str, speaker: Speaker) -> str:
    found = [line for line in plan.log.standing if line.what == what and line.mark == mark]
    return speaker.length(found[-1].value) if found else ""


def _said(plan: Plan, index: int, speaker: Speaker) -> str:
    line = plan.log.lines[index]
    kind = speaker.say(f"log-kind.{line.what}") if speaker.knows(f"log-kind.{line.what}") else line.what
    value = f"{line.value:g} %" if line.what == "moisture" else speaker.length(line.value)
    parts = [line.time.replace("T", " ")[:16], kind, speaker.mark(line.mark), value if line.value else ""]
    return "  ".join(part for part in parts if part)


def ask_on_site(texts: Texts, question: Question, language: Language) -> SiteAnswer:
    """Return the answer to a question on site, with the lines that its readings add to the log.

    The question is asked of a copy of the job's files that is thrown away, so that it is the very one of the command;
    only where the command names its options, the fields are named.
    Raises: OutOfRangeError ``question-unknown``, ``reading-doubtful`` and whatever the question itself raises; what was
    typed stands at ``typed.<name>.<mark>``.
    """
    act = _ACTS.get(question.what)
    if act is None:
        allowed = ", ".join(_ACTS)
        raise OutOfRangeError(Fault(where="what", code="question-unknown", found=question.what, allowed=allowed))
    with tempfile.TemporaryDirectory(prefix="evenfoot-") as folder:
        job, log, shop = (Path(folder) / name for name in ("job.toml", "log.jsonl", "shop.toml"))
        job.write_text(texts.job, encoding="utf-8", newline="")
        log.write_text("".join(f"{line}\n" for line in texts.log), encoding="utf-8", newline="")
        if texts.shop.strip():
            shop.write_text(texts.shop, encoding="utf-8", newline="")
        asked = setting.Asked(
            job=job,
            log=log,
            shop=shop if texts.shop.strip() else None,
            language=language,
            who=question.who,
            is_sure=question.is_sure,
            instead=(ON_PAGE,),
        )
        try:
            answer = act(asked, question)
        except EvenfootError as error:
            raise type(error)(*(_on_page(fault, Speaker(language)) for fault in error.faults)) from error
        lines = log.read_text(encoding="utf-8").splitlines()
    return SiteAnswer(
        what=answer.what,
        lines=answer.lines,
        detail=answer.detail,
        is_fine=answer.is_fine,
        new_lines=tuple(lines[len(texts.log) :]),
    )


_OPTION = re.compile(r"--([a-z]+)(?: (.*))?")
_NAMES: Mapping[str, str] = {
    "gap": "gaps",
    "cut": "cuts",
    "hangs": "hangs",
    "stands": "stands",
    "jack": "jacks",
    "rod": "rods",
    "edge": "edges",
    "board": "widths",
    "moisture": "moistures",
}
"""Under which name each option of the command is typed on the page."""
_WHOLE = frozenset({"square", "level", "posts", "boards", "jack", "stands"})
"""Places of the command that are the whole question on the page."""
_OF_MARKS = frozenset({"post-gap-missing", "posts-on-one-spot", "jacks-do-not-hold", "feet-do-not-hold"})
"""Faults that found marks of posts."""


def _on_page(fault: Fault, speaker: Speaker) -> Fault:
    """Return a fault of the command with its place as the page knows it, and marks as they are written."""
    where, found = fault.where, speaker.mark(fault.found) if fault.code in _OF_MARKS else fault.found
    option = _OPTION.fullmatch(where)
    if option is not None and option[1] in _NAMES:
        where = f"{TYPED}.{_NAMES[option[1]]}.{speaker.typed_mark(option[2] or '')}"
    elif where in _WHOLE:
        where = TYPED
    elif where.startswith("posts."):
        where = f"{TYPED}.{'gaps' if fault.code == 'post-gap-missing' else 'posts'}.{where.partition('.')[2]}"
    return replace(fault, where=where, found=found)


def _square(asked: setting.Asked, question: Question) -> setting.Answer:
    typed = setting.SquareTyped(sides=question.in_turn("sides", _CORNERS), diagonals=question.in_turn("diagonals", 2))
    return setting.ask_square(asked, typed)


def _level(asked: setting.Asked, question: Question) -> setting.Answer:
    return setting.ask_level(asked, setting.LevelTyped(rods=question.pairs("rods")))


def _posts(asked: setting.Asked, question: Question) -> setting.Answer:
    typed = setting.PostsTyped(
        gaps=question.pairs("gaps"),
        cuts=question.pairs("cuts"),
        hangs=question.pairs("hangs"),
        stands=tuple(mark for mark, _ in question.pairs("stands")),
        jacks=tuple(mark for mark, _ in question.pairs("jacks")),
    )
    return setting.ask_posts(asked, typed)


def _boards(asked: setting.Asked, question: Question) -> setting.Answer:
    edges, widths, moisture = (question.pairs(name) for name in ("edges", "widths", "moistures"))
    typed = setting.BoardsTyped(edges=edges, widths=widths, moisture=moisture)
    return setting.ask_boards(asked, typed)


_ACTS: Mapping[str, Callable[[setting.Asked, Question], setting.Answer]] = {
    "square": _square,
    "level": _level,
    "posts": _posts,
    "boards": _boards,
}
