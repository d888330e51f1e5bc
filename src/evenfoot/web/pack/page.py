"""The one file that the phone opens: words, drawings, lists, script and data inside, nothing from outside."""

from __future__ import annotations

import base64
import json
from hashlib import sha256
from html import escape
from typing import Any
from urllib.parse import urlsplit

from evenfoot.office import pack
from evenfoot.web.pack.bundle import asset, script
from evenfoot.words import Language, Speaker

_PAGE = """<!doctype html>
<html lang="{language}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="format-detection" content="telephone=no">
<title>{title}</title>
<style>{style}</style>
</head>
<body>
<main id="page"><p>{loading}</p></main>
<noscript><p>{no_script}</p></noscript>
<script type="application/json" id="pack">{data}</script>
<script>{script}</script>
</body>
</html>
"""


def pack_html(plan: Any, language: Language, *, log_url: str = "") -> bytes:  # noqa: ANN401 - a plan, passed on unread
    """Return the site pack of a plan as one HTML file; both languages are inside, ``language`` is shown first.

    It holds no address of anything outside itself. ``log_url`` is where readings are sent as JSON ``{"lines": [...]}``
    when the file was opened from the running program; empty for a file that is carried over.
    """
    record = pack.pack_record(plan, log_url=log_url) | {"language": language.value}
    speaker = Speaker(language)
    code, style = script(), asset("pack.css")
    return _PAGE.format(
        language=language.value,
        policy=_policy(code, style, log_url),
        title=escape(speaker.say("pack.title", job=plan.job.name)),
        style=style,
        loading=escape(speaker.say("pack.loading")),
        no_script=escape(speaker.say("pack.no-script")),
        data=_inside(record),
        script=code,
    ).encode()


def header_policy(log_url: str) -> str:
    """Return the same policy for the header of an answer, which can forbid frames as well."""
    return f"{_policy(script(), asset('pack.css'), log_url)}; frame-ancestors 'none'"


def _policy(code: str, style: str, log_url: str) -> str:
    """Return what the page may do: run this script, wear this style, send readings to one place, and nothing else."""
    parts = urlsplit(log_url)
    reach = "'none'" if not log_url else f"{parts.scheme}://{parts.netloc}" if parts.netloc else "'self'"
    return (
        f"default-src 'none'; script-src '{_hash(code)}'; style-src '{_hash(style)}'; worker-src blob:; "
        f"connect-src {reach}; base-uri 'none'; form-action 'none'"
    )


def _hash(text: str) -> str:
    return f"sha256-{base64.b64encode(sha256(text.encode()).digest()).decode()}"


def _inside(record: dict[str, Any]) -> str:
    """Return a record as JSON that cannot end the element that it stands in."""
    text = json.dumps(record, ensure_ascii=False, separators=(",", ":"))
    return text.replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
