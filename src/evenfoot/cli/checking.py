"""How the answer to ``check`` is shown: what falls short first, then timber by timber, then the rest."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import TYPE_CHECKING

from evenfoot.cli.show import finding_line, money, verdict_line
from evenfoot.words import Speaker

if TYPE_CHECKING:
    from evenfoot.office import answers, remedies


def check_lines(
    findings: Sequence[answers.Finding], speaker: Speaker, *, name: str, tried: Sequence[remedies.Remedy] | None = None
) -> list[str]:
    """Return the answer to ``check``: the verdict, what falls short, what governs each timber, and the rest.

    Findings alike are told once with the marks of the others. What published tables say stands under its own heading.
    """
    grave = [f for f in findings if f.verdict != "ok" and not _is_table(f)]
    tables = [f for f in findings if _is_table(f)]
    timbers = [f for f in findings if f.verdict == "ok" and _is_timber(f, speaker)]
    told = {id(f) for f in (*grave, *tables, *timbers)}
    rest = [f for f in findings if id(f) not in told]
    out = [verdict_line(findings, speaker, name=name), *_alike(grave, speaker)]
    if tried is not None:
        out += _section("cli.heading-remedies", _remedy_lines(tried, speaker), speaker)
    out += _section("cli.heading-timbers", _timber_lines(timbers, speaker), speaker)
    out += [] if all(f.is_confirmed for f in timbers) else [speaker.say("cli.mark-meaning")]
    out += _section("cli.heading-tables", [finding_line(f, speaker) for f in tables], speaker)
    out += _section("cli.heading-rest", [finding_line(f, speaker) for f in rest], speaker)
    return [*out, speaker.say("cli.second-opinion")]


def _section(code: str, lines: Sequence[str], speaker: Speaker) -> list[str]:
    return ["", speaker.say(code), *lines] if lines else []


def _is_table(finding: answers.Finding) -> bool:
    return finding.rule.startswith("table-")


def _is_timber(finding: answers.Finding, speaker: Speaker) -> bool:
    return finding.ratio is not None and speaker.knows(f"plain.{finding.rule}")


def _alike(findings: Sequence[answers.Finding], speaker: Speaker) -> list[str]:
    """Return findings, one line for those alike: the worst, and the marks of the rest."""
    groups: dict[tuple[str, ...], list[answers.Finding]] = {}
    for f in findings:
        key = (f.verdict, f.rule, f.case) if speaker.knows(f"plain.{f.rule}") else (f.verdict, f.rule, f.text)
        groups.setdefault(key, []).append(f)
    out = []
    for first, *others in groups.values():
        line = finding_line(first, speaker)
        marks = dict.fromkeys(speaker.mark(f.subject) for f in others if f.subject != first.subject)
        if marks:
            line += " " + speaker.say("cli.also", marks=speaker.say("cli.comma").join(marks))
        out.append(line)
    return out


def _timber_lines(findings: Sequence[answers.Finding], speaker: Speaker) -> list[str]:
    """Return one line for each timber and post with its governing checks, the most used timber first."""
    by_mark: dict[str, list[answers.Finding]] = {}
    for f in findings:
        by_mark.setdefault(f.subject, []).append(f)
    ordered = sorted(by_mark.items(), key=lambda item: -max(f.ratio or 0.0 for f in item[1]))
    return [_timber_line(mark, found, speaker) for mark, found in ordered]


def _timber_line(mark: str, findings: Sequence[answers.Finding], speaker: Speaker) -> str:
    worst: dict[str, answers.Finding] = {}
    for f in sorted(findings, key=lambda f: -(f.ratio or 0.0)):
        worst.setdefault(f.rule, f)
    parts = [
        speaker.say(
            "cli.governing" if f.place and f.place != f.subject else "cli.governing-all",
            rule_code=f"plain.{f.rule}",
            percent=round(100.0 * (f.ratio or 0.0)),
            place=speaker.mark(f.place),
        )
        for f in worst.values()
    ]
    doubt = "" if all(f.is_confirmed for f in worst.values()) else speaker.say("cli.unconfirmed-mark")
    return speaker.say("cli.timber", mark=speaker.mark(mark), checks=speaker.say("cli.comma").join(parts), doubt=doubt)


def _remedy_lines(found: Sequence[remedies.Remedy], speaker: Speaker) -> list[str]:
    out: list[str] = []
    for remedy in found:
        out.append(remedy.text)
        out += [f"  {'○' if t.passes else '×'} {t.text}{_worth(t, speaker)}" for t in remedy.tried]
        if not remedy.tried:
            out.append("  " + speaker.say("option.nothing-to-try"))
        elif not any(t.passes for t in remedy.tried):
            out.append("  " + speaker.say("option.none-passes"))
    return out or [speaker.say("cli.no-remedy-needed")]


def _worth(tried: remedies.Tried, speaker: Speaker) -> str:
    if tried.extra_low is None or tried.extra_high is None:
        return ""
    low, high = (_signed(amount, tried.currency) for amount in sorted((tried.extra_low, tried.extra_high)))
    words = [speaker.say("option.price", low=low, high=high)]
    words += [speaker.say("option.first")] if tried.is_first else []
    words += [speaker.say("option.cheapest")] if tried.is_cheapest else []
    return " — " + speaker.say("cli.comma").join(words)


def _signed(amount: Decimal, currency: str) -> str:
    return ("+" if amount >= 0 else "-") + money(abs(amount), currency)
