"""``evenfoot pack`` and ``evenfoot bring``: the file for the phone on the slab, and what the phone brings back."""

from __future__ import annotations

import json
from pathlib import Path

import click

from evenfoot.words import Speaker


def pack_job(  # noqa: PLR0913 - one keyword per option of the command
    speaker: Speaker,
    *,
    job: Path,
    out: Path | None,
    send_to: str,
    shop: Path | None,
    log: Path | None,
    as_json: bool,
) -> int:
    """Write the site pack of a job as one file and say how large it is."""
    from evenfoot.office import Request, pack, reckon
    from evenfoot.web import pack_html

    plan = reckon(Request(job=job, shop=shop, log=log))
    data = pack_html(plan, speaker.language, log_url=send_to)
    path = pack.write_file(out if out is not None else job.parent / "out" / "site-pack.html", data)
    lines = [
        speaker.say("cli.pack-written", path=str(path), megabytes=f"{len(data) / 1e6:.1f}"),
        speaker.say("cli.pack-next"),
    ]
    _show({"file": str(path), "size_bytes": len(data)}, lines, as_json=as_json)
    return 0


def bring_readings(speaker: Speaker, *, job: Path, brought: tuple[Path, ...], log: Path | None, as_json: bool) -> int:
    """Put the lines of phones' files to the job's log and say what was new and what disagrees."""
    from evenfoot.office import pack

    told: list[str] = []
    records: list[dict[str, object]] = []
    for file in brought:
        joined = pack.join_file(log if log is not None else job.parent / "log.jsonl", file)
        own = pack.speaker_of(job, speaker.language)
        told += pack.joined_words(joined, own)
        records.append({"file": str(file), **pack.joined_record(joined, own)})
    _show({"brought": records}, told, as_json=as_json)
    return 0


def _show(record: dict[str, object], lines: list[str], *, as_json: bool) -> None:
    click.echo(json.dumps(record, ensure_ascii=False, indent=1) if as_json else "\n".join(lines))
