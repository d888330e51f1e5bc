"""The command ``evenfoot``: start-up, language, exit codes."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Sequence

from evenfoot.errors import EvenfootError, Fault
from evenfoot.words import Language, Speaker

FINE, SHORTFALLS, BAD_INPUT, OUR_FAULT = 0, 1, 2, 3
"""Exit codes: 0 fine, 1 the plan has shortfalls, 2 bad input, 3 our fault."""


def main(arguments: Sequence[str] | None = None) -> None:
    """Run one command and exit with its code."""
    sys.exit(run(list(sys.argv[1:] if arguments is None else arguments)))


def run(arguments: list[str]) -> int:
    """Run one command and return its exit code; every fault is said, none is thrown."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # before numpy: small matrices are slower on many threads
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    import click

    from evenfoot.cli.commands import build

    speaker = Speaker(language_of(arguments))
    is_json = "--json" in arguments
    try:
        code = build(speaker).main(arguments, prog_name="evenfoot", standalone_mode=False)
    except EvenfootError as error:
        _say_faults(error.faults, speaker, is_json=is_json)
        return BAD_INPUT
    except click.UsageError as error:
        where = error.ctx.command_path if error.ctx is not None else "evenfoot"
        fault = Fault(where=where, code="bad-command", found=error.format_message())
        _say_faults((fault,), speaker, is_json=is_json)
        return BAD_INPUT
    except click.exceptions.Exit as stop:
        return stop.exit_code
    except (click.Abort, KeyboardInterrupt):
        print(speaker.say("cli.stopped"), file=sys.stderr)  # noqa: T201 - the command line talks
        return BAD_INPUT
    except Exception as error:  # noqa: BLE001 - the last net: our own fault is told with its own code
        return _confess(error, speaker, is_json=is_json)
    return code if isinstance(code, int) else FINE


def language_of(arguments: Sequence[str]) -> Language:
    """Return the language of ``--lang`` (also ``--lang=ja``), else of the locale, else English."""
    wanted = ""
    for place, word in enumerate(arguments):
        if word == "--lang" and place + 1 < len(arguments):
            wanted = arguments[place + 1]
        elif word.startswith("--lang="):
            wanted = word.partition("=")[2]
    if not wanted:
        names = ("LC_ALL", "LC_MESSAGES", "LANG")
        wanted = next((os.environ[n] for n in names if os.environ.get(n)), "")
    return Language.JAPANESE if wanted.lower().startswith("ja") else Language.ENGLISH


def _say_faults(faults: Sequence[Fault], speaker: Speaker, *, is_json: bool) -> None:
    if is_json:
        record = {
            "error": {
                "faults": [
                    {
                        "where": f.where,
                        "line": f.line,
                        "column": f.column,
                        "code": f.code,
                        "found": f.found,
                        "allowed": f.allowed,
                        "nearest": f.nearest,
                        "text": speaker.fault(f),
                    }
                    for f in faults
                ]
            }
        }
        print(json.dumps(record, ensure_ascii=False, indent=1))  # noqa: T201 - the command line talks
        return
    for fault in faults:
        print(speaker.fault(fault), file=sys.stderr)  # noqa: T201 - the command line talks


def _confess(error: Exception, speaker: Speaker, *, is_json: bool) -> int:
    if os.environ.get("EVENFOOT_DEBUG"):
        raise error
    fault = Fault(where="evenfoot", code="our-fault", found=f"{type(error).__name__}: {error}")
    _say_faults((fault,), speaker, is_json=is_json)
    return OUR_FAULT
