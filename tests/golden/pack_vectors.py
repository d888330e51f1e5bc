"""Cases for the phone: what goes in and what the engine answers. Written anew by ``python tests/golden/pack_vectors.py``.

The phone works some answers out by itself when there is no signal. It must say what the engine says, so that the engine's
answers are kept here, a test sees that they still are the engine's, and another that the phone gives the same.
"""

from __future__ import annotations

import json
import math
import random
import sys
import tempfile
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from evenfoot.errors import EvenfootError
from evenfoot.job import LogLine, files
from evenfoot.office import Request, reckon, setting
from evenfoot.office.setting import bench as benches
from evenfoot.office.setting.square_words import _record as square_record
from evenfoot.setting import boards, likely_slip, square
from evenfoot.solvers import chi_squared_limit, complementarity
from evenfoot.units import format_length, parse_length
from evenfoot.words import Language

FOLDER = Path(__file__).parent / "pack"
EXAMPLES = Path(__file__).parents[2] / "examples"
JOBS = ("library-terrace", "side-door-landing")
UNITS = ("mm", "cm", "m", "in", "ft", "shaku")


def lengths() -> dict[str, Any]:
    """Typed lengths with what they are [mm], or the code of the fault; and lengths as they are written."""
    chance = random.Random(11)
    typed = [
        ("mm", text)
        for text in (
            "3600", " 3600 mm", "3.6 m", "360cm", "１２３４．５", "-12.5", "− 12", "1e3", "", "-", "12-", "3,6", "0", ".5", "7.",
            "6' 2 1/2\"", "6'-2 1/2\"", "6′２½″", "74 1/2 in", "5' 14\"", "3尺5寸2分", "3 shaku 5 sun", "1間2尺", "3寸5尺", "12 3/0",
            "4 feet 3 inches", "1m 20cm", "1.5m 20cm", "3 ft 20 mm", "12 parsecs", "9" * 16, "x" * 90, "2½", "1/3", "3 1/3 mm", "5 厘",
        )
    ]  # fmt: skip
    typed += [
        ("ft", "3"),
        ("in", "11 3/4"),
        ("in", "3 3/8"),
        ("shaku", "2.5"),
        ("shaku", "15尺2分"),
        ("m", "2.75"),
        ("cm", "3"),
    ]
    for _ in range(120):
        unit = chance.choice(UNITS)
        mm = round(chance.uniform(-50, 9000), chance.randrange(0, 4))
        typed.append((chance.choice(UNITS), format_length(mm, unit=unit)))
        typed.append(
            (unit, f"{chance.randrange(0, 80)} {chance.randrange(1, 16)}/{chance.choice((2, 4, 8, 16, 32, 7))}")
        )
    read = []
    for unit, text in typed:
        try:
            read.append({"unit": unit, "text": text, "mm": float(parse_length(text, unit=unit))})
        except EvenfootError as error:
            read.append({"unit": unit, "text": text, "code": error.faults[0].code})
    written = []
    for k in range(300):
        mm = chance.choice(
            (round(chance.uniform(-3000, 12000), 3), chance.uniform(-9, 9), 0.25 * k, -0.25, 1e-7, 3600.0)
        )
        unit = chance.choice(UNITS)
        written.append({"unit": unit, "mm": mm, "text": format_length(mm, unit=unit)})
    return {"read": read, "written": written}


def slips() -> list[dict[str, Any]]:
    """Readings that are out, and which slip explains them."""
    chance, out = random.Random(12), []
    for _ in range(200):
        expected = round(chance.uniform(200, 5000) * 2) / 2
        found = chance.choice(
            (
                expected + chance.choice((10, -100, 1000, 25.4, 304.8)),
                expected / 10,
                expected * 25.4,
                -expected,
                float("".join(sorted(str(int(expected))))),
                expected + chance.uniform(-60, 60),
            )
        )
        within = chance.choice((0.5, 2.0, 7.25))
        slip = likely_slip(found, expected=expected, within=within)
        told = None if slip is None else {"kind": slip.kind.value, "value": slip.value}
        out.append({"found": found, "expected": expected, "within": within, "slip": told})
    return out


def chances() -> list[dict[str, Any]]:
    """Limits of chi-squared."""
    return [
        {"share": share, "freedom": n, "limit": chi_squared_limit(share=share, freedom=n)}
        for share in (0.001, 0.05)
        for n in (1, 2, 3, 4, 5, 9, 12)
    ]


def squares() -> list[dict[str, Any]]:
    """Frames of every shape with readings that err, misread, lack or tie."""
    chance, out = random.Random(13), []
    for number in range(70):
        width, depth = chance.uniform(1500, 6000), chance.uniform(1200, 4000)
        corners = [(0.0, 0.0), (width, 0.0), (width, depth), (0.0, depth)]
        if number % 7 == 6:
            corners.insert(3, (width * chance.uniform(0.3, 0.6), depth * chance.uniform(1.1, 1.3)))
        real = [(x + chance.gauss(0, 4), y + chance.gauss(0, 4)) for x, y in corners]
        if number % 3 == 0:
            real[2:4] = [(x + 9.0, y) for x, y in real[2:4]]
        count = len(corners)
        pairs = [(a, b) for a in range(count) for b in range(a + 1, count)]
        chance.shuffle(pairs)
        kept = pairs[: chance.randrange(4, len(pairs) + 1)] if number % 5 else pairs
        read = [
            {
                "pair": list(pair),
                "value": round((math.dist(real[pair[0]], real[pair[1]]) + chance.gauss(0, 0.7)) * 2) / 2,
                "accuracy": chance.choice((None, None, 1.0, 3.0)),
            }
            for pair in kept
        ]
        if number % 6 == 1:
            read[0]["value"] += chance.choice((10.0, -100.0, 27.0))
        same = [[[0, 1], [2, 3]]] if number % 8 == 2 and count == 4 else []
        out.append(_square(corners, read, same, is_size_known=number % 2 == 0))
    return out


def _square(corners: list, read: list, same: list, *, is_size_known: bool) -> dict[str, Any]:
    wanted = square.Wanted(
        corners=tuple(corners),
        is_size_known=is_size_known,
        within=3.0,
        same=tuple((tuple(a), tuple(b)) for a, b in same),
    )
    distances = [square.Distance(pair=tuple(d["pair"]), value=d["value"], accuracy=d["accuracy"]) for d in read]
    result = square.square_up(wanted, distances, square.Tape(reading=1.5, scale=0.0002))
    return {
        "corners": [list(c) for c in corners],
        "is_size_known": is_size_known,
        "same": same,
        "read": read,
        "answer": square_record(result),
    }


def runs() -> list[dict[str, Any]]:
    """Runs of boards still open, with every way out."""
    chance, out = random.Random(14), []
    for number in range(160):
        count = chance.randrange(1, 24)
        widths = [105 + chance.uniform(-1.5, 1.5) for _ in range(count)]
        low = chance.choice((2.0, 3.0, 4.5))
        high = low + chance.choice((1.0, 3.0, 4.0))
        gap = chance.uniform(low - 1.5, high + 1.5)
        run = boards.OpenRun(
            left=math.fsum(widths) + count * gap,
            widths=tuple(widths),
            last_gap=None if number % 9 == 0 else round(chance.uniform(low - 1, high + 1) * 2) / 2,
            left_sigma=0.765,
            width_sigma=chance.uniform(0.1, 0.6),
            common_sigma=0.153,
        )
        step = chance.choice((0.5, 1.0))
        spacing = boards.Spacing(low=low, high=high, step=step, seen=max(1.0, step), within=2.0, rip_min=60.0)
        found = boards.running_gap(run, spacing)
        out.append(
            {
                "run": {
                    "left": run.left,
                    "widths": widths,
                    "lastGap": run.last_gap,
                    "leftSigma": run.left_sigma,
                    "widthSigma": run.width_sigma,
                    "commonSigma": run.common_sigma,
                },
                "spacing": {
                    "low": low,
                    "high": high,
                    "step": step,
                    "seen": spacing.seen,
                    "within": 2.0,
                    "ripMin": 60.0,
                },
                "answer": {
                    "batches": [{"count": b.count, "gap": b.gap} for b in found.batches],
                    "even": found.even,
                    "misses": found.misses,
                    "sure": found.sure,
                    "rip": None if found.rip is None else {"count": found.rip.count, "width": found.rip.width},
                },
            }
        )
    return out


def contacts() -> list[dict[str, Any]]:
    """Bodies partly stiff and partly free on one-sided contacts; some tip, some touch without pressing."""
    chance, out = np.random.default_rng(15), []
    for number in range(60):
        n = int(chance.integers(3, 11))
        m = int(chance.integers(1, min(4, n) + 1))
        root = chance.normal(size=(n, n))
        flexibility = root @ root.T * 1e-3 + np.diag(chance.uniform(1e-4, 1e-2, n))
        modes = np.linalg.qr(chance.normal(size=(n, m)))[0] if number % 2 else _plane(chance, n)[:, : max(1, m)]
        m = modes.shape[1]
        is_two_way = chance.random(n) < (0.2 if number % 5 == 0 else 0.0)
        offset = np.round(chance.normal(size=n) * 2, 1 if number % 3 else 0)
        load = chance.uniform(0, 500, n) if number % 4 else chance.normal(size=n) * 300
        total = load @ modes
        found = complementarity.Settler(
            complementarity.Contacts(flexibility=flexibility, modes=modes, is_two_way=is_two_way)
        ).settle(offset[None], total[None])
        held = bool(found.is_held[0])
        out.append(
            {
                "flexibility": flexibility.tolist(),
                "modes": modes.tolist(),
                "is_two_way": is_two_way.tolist(),
                "offset": offset.tolist(),
                "total": total.tolist(),
                "answer": {
                    "is_held": held,
                    "press": found.press[0].tolist() if held else None,
                    "gap": found.gap[0].tolist() if held else None,
                },
            }
        )
    return out


def _plane(chance: np.random.Generator, n: int) -> np.ndarray:
    at = chance.uniform(-1, 1, size=(n, 2))
    return np.linalg.qr(np.column_stack((np.ones(n), at)))[0]


def lines() -> list[dict[str, Any]]:
    """Facts as a phone writes them, with the id that the engine gives them."""
    facts = [
        {"what": "post-gap", "mark": "A1", "value_mm": 268.5, "accuracy_mm": 1},
        {"what": "distance", "mark": "1-3", "value_mm": 4501, "who": "Aki"},
        {"what": "jack", "mark": "C2"},
        {"what": "frame-rod", "mark": "B2", "value_mm": 1003.1734, "stand": "3/1", "instrument": "回転レーザー"},
        {"what": "moisture", "mark": "b7", "value_pct": 18.5, "who": 'J"ö\\'},
        {"what": "board-edge", "mark": "b7 left", "value_mm": 812.25},
        {"what": "foot-gap", "mark": "A1", "value_mm": 0},
        {"what": "undo", "mark": "A1", "of": "9db705a8b1"},
    ]
    out = []
    for number, fact in enumerate(facts):
        row = {"time": f"2026-11-18T09:4{number}:00+09:00", **fact}
        text = json.dumps(row, ensure_ascii=False)
        out.append({"row": row, "text": text, "id": files.parse_log(text + "\n").lines[0].id})
    return out


def answers() -> list[dict[str, Any]]:
    """The examples with logs of many kinds: the lines of the log, and every station's answer in both languages."""
    out = []
    for name in JOBS:
        with tempfile.TemporaryDirectory() as folder:
            place = Path(folder) / "job.toml"
            place.write_bytes((EXAMPLES / name / "job.toml").read_bytes())
            out += [{"job": name, **_answered(place, log)} for log in _logs(name, place)]
    return out


def _answered(job: Path, log: list[LogLine]) -> dict[str, Any]:
    path = job.parent / "log.jsonl"
    path.unlink(missing_ok=True)
    written = files.append_log(path, log)
    kept = benches.reckon
    benches.reckon = cache(kept)
    try:
        said = {}
        for what, ask in _ASKS.items():
            asked = {lang.value: _ask(ask, setting.Asked(job=job, log=path, language=lang)) for lang in Language}
            first = asked["en"]
            said[what] = first if "code" in first else {
                "lines": {lang: one["lines"] for lang, one in asked.items()},
                "detail": {lang: one["detail"] for lang, one in asked.items()},
                "record": {k: v for k, v in first.items() if k not in {"lines", "detail", "what", "is_fine"}},
                "is_fine": first["is_fine"],
            }  # fmt: skip
    finally:
        benches.reckon = kept
    return {"log": [{"id": line.id, **files.line_row(line)} for line in written], "said": said}


_ASKS = {
    "square": lambda asked: setting.ask_square(asked, setting.SquareTyped()),
    "level": lambda asked: setting.ask_level(asked, setting.LevelTyped()),
    "boards": lambda asked: setting.ask_boards(asked, setting.BoardsTyped()),
    "posts": lambda asked: setting.ask_posts(asked, setting.PostsTyped()),
}


def _ask(ask: Any, asked: setting.Asked) -> dict[str, Any]:
    try:
        answer = ask(asked)
    except EvenfootError as error:
        return {"code": error.faults[0].code}
    return {
        "lines": list(answer.lines),
        "detail": list(answer.detail),
        "is_fine": answer.is_fine,
        **json.loads(json.dumps(answer.record)),
    }


def _logs(name: str, job: Path) -> list[list[LogLine]]:
    """Logs of one example: empty, each station begun, all of it, posts that hang, posts as cut."""
    chance = random.Random(name)
    plan = reckon(Request(job=job))
    layout, posts = plan.layout, plan.posts.cuts
    width, depth = layout.frame_x[1] - layout.frame_x[0], layout.frame_y[1] - layout.frame_y[0]
    write = _Writer()

    def frame(lean: float, longer: float) -> list[LogLine]:
        at = [(0.0, 0.0), (width, 0.0), (width + lean + longer, depth), (lean, depth)]
        pairs = ((0, 1), (1, 2), (2, 3), (0, 3), (0, 2), (1, 3))
        read = {p: round(math.dist(at[p[0]], at[p[1]]) * 2 + chance.gauss(0, 1)) / 2 for p in pairs}
        return [write("distance", f"{a + 1}-{b + 1}", value) for (a, b), value in read.items()]

    def rods(stand: str, spread: float) -> list[LogLine]:
        read = [
            write("frame-rod", c.mark, round(1000 + plan.frame.fall * c.y + chance.gauss(0, spread), 3), stand=stand)
            for c in posts
        ]
        return [*read, write("frame-rod", posts[0].mark, read[0].value + chance.choice((0.5, -1.0)), stand=stand)]

    def gaps(jacks: list[str], count: int) -> list[LogLine]:
        return [
            *(write("jack", mark, 0.0) for mark in jacks),
            *(
                write(
                    "post-gap",
                    c.mark,
                    round(c.length * 2 + chance.gauss(0, 6)) / 2,
                    accuracy=chance.choice((None, 1.0)),
                )
                for c in posts[:count]
            ),
        ]

    def cuts(spread: float) -> list[LogLine]:
        return [write("post-length", c.mark, round((c.length + chance.gauss(0, spread)) * 2) / 2) for c in posts]

    def edges(row: int, off: float) -> list[LogLine]:
        far = layout.rows[row - 1].far
        widths = [
            write("board-width", f"b{r}", layout.rows[r - 1].width + chance.gauss(0, 0.5)) for r in (1, 2, 3, row)
        ]
        return [*widths, write("board-edge", f"b{row}", round((far + off) * 2) / 2)]

    every = [c.mark for c in posts]
    ends = [every[0], every[-1], *chance.sample(every[1:-1], 2)]
    exact = [write("post-gap", c.mark, c.length, accuracy=1.0) for c in posts]
    return [
        [],
        [*frame(0.4, 0.0), *rods("1/1", 1.0), *gaps(every, 2), *edges(4, 1.0)],
        [*frame(8.2, 0.0), *rods("1/1", 4.0), *gaps(ends, len(every)), *edges(7, -2.5)],
        [*frame(-3.0, 11.0), *rods("2/1", 2.5), *rods("2/2", 2.5), *exact, *cuts(1.2), write("moisture", "b2", 21.5)],
        [*exact, *cuts(0.25), write("board-edge", "b2 l", layout.rows[1].far + 1), write("board-edge", "b2 r", layout.rows[1].far - 2)],
        [*(write("foot-gap", m, 0.0) for m in every if m != every[1]), write("foot-gap", every[1], 1.5)],
        [*(write("foot-gap", m, chance.choice((0.0, 0.0, 0.8, 1.9)) if m not in ends else 0.0) for m in every)],
        [*exact, *cuts(0.8), *edges(3, 0.5)],
    ]  # fmt: skip


class _Writer:
    """Writes facts a minute apart."""

    def __init__(self) -> None:
        self.count = 0

    def __call__(
        self, what: str, mark: str, value: float, *, accuracy: float | None = None, stand: str = ""
    ) -> LogLine:
        self.count += 1
        time = f"2026-11-18T{8 + self.count // 60:02d}:{self.count % 60:02d}:00+09:00"
        return LogLine(
            time=time, what=what, mark=mark, x=None, y=None, value=value, accuracy=accuracy, where="", stand=stand
        )


MAKES = {
    "lengths": lengths,
    "slips": slips,
    "chances": chances,
    "squares": squares,
    "runs": runs,
    "contacts": contacts,
    "lines": lines,
    "answers": answers,
}
SLOW = frozenset({"answers"})


def main() -> None:
    FOLDER.mkdir(exist_ok=True)
    for name in sys.argv[1:] or MAKES:
        text = json.dumps(MAKES[name](), ensure_ascii=False, separators=(",", ":"))
        (FOLDER / f"{name}.json").write_text(text.replace("},{", "},\n{") + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
