"""Plain ES modules made into one script that runs from a file: no server, no build step."""

from __future__ import annotations

import re
from collections.abc import Mapping
from importlib.resources import files

_IMPORT = re.compile(r'^import \{([^}]*)\} from "\./([\w-]+\.js)";\n', re.MULTILINE)
_EXPORT = re.compile(r"^export (async function|function\*|function|class|const) (\w+)", re.MULTILINE)
_LEFT = re.compile(r"^(?:import|export)\b", re.MULTILINE)
ENTRY = "main.js"


def asset(name: str) -> str:
    """Return the text of one file of the pack's assets."""
    return (files("evenfoot.web") / "assets" / "pack" / name).read_text(encoding="utf-8")


def modules(entry: str = ENTRY) -> Mapping[str, str]:
    """Return every module that ``entry`` needs by its name, each after those that it imports."""
    found: dict[str, str] = {}

    def take(name: str, above: tuple[str, ...]) -> None:
        assert name not in above, f"modules import each other in a ring: {' '.join((*above, name))}"
        if name not in found:
            text = asset(name)
            for _, other in _IMPORT.findall(text):
                take(other, (*above, name))
            found[name] = text

    take(entry, ())
    return found


def script(entry: str = ENTRY) -> str:
    """Return one script in which each module is a function of its own that hands out what it exports.

    Modules use one manner of import and export, each on its own line; anything else is refused.
    """
    parts = ['"use strict";']
    for name, text in modules(entry).items():
        taken = [f"const {{{_renamed(names)}}} = {_variable(other)};\n" for names, other in _IMPORT.findall(text)]
        names = [found[1] for found in _EXPORT.findall(text)]
        body = _EXPORT.sub(r"\1 \2", _IMPORT.sub("", text))
        assert not _LEFT.search(body), f"{name} imports or exports in another manner"
        hands_out = f"return {{{', '.join(names)}}};\n"
        parts.append(f"const {_variable(name)} = (() => {{\n{''.join(taken)}{body}{hands_out}}})();")
    return "\n".join(parts) + "\n"


def _variable(name: str) -> str:
    return f"from_{name.removesuffix('.js').replace('-', '_')}"


def _renamed(names: str) -> str:
    """Return imported names as they are taken out of an object: ``a as b`` becomes ``a: b``."""
    return ", ".join(part.strip().replace(" as ", ": ") for part in names.split(",") if part.strip())
