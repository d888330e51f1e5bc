"""The command ``people``: who may sign in, and at the machine itself the way back for whoever forgot a passphrase."""

from __future__ import annotations

import json
import sys
from contextlib import closing

import click

from evenfoot.words import Speaker


def build_people(speaker: Speaker, shared: list[click.Parameter]) -> click.Command:
    """Return the command with its help in the speaker's language."""

    def text(code: str) -> str:
        return speaker.say(f"cli.{code}")

    def callback(*, name: str | None, owner: bool, store: str | None, as_json: bool) -> int:
        return _people(speaker, name=name or "", is_owner=owner, store=store or "", as_json=as_json)

    params: list[click.Parameter] = [
        click.Argument(["name"], required=False),
        click.Option(["--owner"], is_flag=True, help=text("people-owner")),
        click.Option(["--store"], help=text("serve-store")),
    ]
    return click.Command("people", callback=callback, help=text("people"), params=[*params, *shared])


def _people(speaker: Speaker, *, name: str, is_owner: bool, store: str, as_json: bool) -> int:
    from evenfoot.office import people, record_of
    from evenfoot.web import usual_store

    record: dict[str, object]
    with closing(people.open_list(store or usual_store())) as kept:
        if name:
            found = people.give_back(kept, name, _passphrase(speaker), is_owner=is_owner)
            record, lines = {"person": record_of(found)}, [speaker.say("cli.people-given", name=found.name)]
        else:
            everyone = people.listed(kept)
            record = {"people": [record_of(person) for person in everyone]}
            lines = [f"{one.name}  {speaker.say(f'guard.role-{one.role.value}')}" for one in everyone]
    click.echo(json.dumps(record, ensure_ascii=False, indent=1) if as_json else "\n".join(lines or _nobody(speaker)))
    return 0


def _nobody(speaker: Speaker) -> list[str]:
    return [speaker.say("cli.people-none")]


def _passphrase(speaker: Speaker) -> str:
    """Return a passphrase typed twice without being shown, or the first line that is handed in; never an argument."""
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    again = speaker.say("cli.people-again")
    typed: str = click.prompt(
        speaker.say("cli.people-new"), hide_input=True, confirmation_prompt=again, err=True, show_default=False
    )
    return typed
