"""The command ``serve``: the page in a browser, on this computer alone unless asked otherwise."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from evenfoot.words import Speaker


def build_serve(speaker: Speaker, shared: list[click.Parameter]) -> click.Command:
    """Return the command with its help in the speaker's language."""

    def text(code: str) -> str:
        return speaker.say(f"cli.{code}")

    params: list[click.Parameter] = [
        click.Option(["--store"], help=text("serve-store")),
        click.Option(["--host"], default="127.0.0.1", show_default=True, help=text("serve-host")),
        click.Option(
            ["--port"], type=click.IntRange(0, 65535), default=8410, show_default=True, help=text("serve-port")
        ),
        click.Option(["--name"], multiple=True, help=text("serve-name")),
        click.Option(["--hands"], type=click.IntRange(1, 32), help=text("serve-hands")),
        click.Option(["--people"], is_flag=True, help=text("serve-people")),
        click.Option(["--certificate"], type=click.Path(path_type=Path), help=text("serve-certificate")),
        click.Option(["--key"], type=click.Path(path_type=Path), help=text("serve-key")),
    ]
    return click.Command(
        "serve", callback=lambda **given: _serve(speaker, **given), help=text("serve"), params=[*params, *shared]
    )


def _serve(speaker: Speaker, **given: Any) -> int:  # noqa: ANN401 - one keyword per option of the command
    from evenfoot.web import Settings, serve, usual_store

    certificate, key = given["certificate"], given["key"]
    for option, path in (("--certificate", certificate), ("--key", key)):
        if path is not None and not path.is_file():
            raise click.UsageError(speaker.say("cli.serve-no-file", option=option, path=str(path)))
    if (certificate is None) != (key is None):
        raise click.UsageError(speaker.say("cli.serve-both"))
    wish = {"hands": given["hands"]} if given["hands"] else {}
    settings = Settings(
        store_url=given["store"] or usual_store(),
        host=given["host"],
        port=given["port"],
        names=(*given["name"], given["host"]),
        has_people=given["people"],
        certificate=certificate,
        key=key,
        **wish,
    )
    serve(settings, lambda address: _tell(speaker, address, settings, is_json=given["as_json"]))
    return 0


def _tell(speaker: Speaker, address: str, settings: Any, *, is_json: bool) -> None:  # noqa: ANN401 - the web is imported late
    if is_json:
        click.echo(json.dumps({"address": address, "is_loopback_only": settings.is_loopback_only}))
        return
    click.echo(speaker.say("cli.serve-open", address=address))
    if not settings.is_loopback_only:
        click.echo(speaker.say("cli.serve-reachable"))
