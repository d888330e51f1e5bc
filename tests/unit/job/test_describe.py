"""What is told about job files, to editors, to readers of the manual and to someone who begins one, is true."""

from __future__ import annotations

import json
import re
import tomllib
from decimal import Decimal
from pathlib import Path

import pytest

from evenfoot.errors import OutOfRangeError
from evenfoot.job import files, job_template, kinds, parse_job, read_job, read_log, read_shop, yard_for
from evenfoot.job.file.defaults import defaults
from evenfoot.job.file.manual import manual_rows
from evenfoot.job.file.shop_tables import ShopFile
from evenfoot.job.file.tables import JobFile

ROOT = Path(__file__).parents[3]
MANUAL = (ROOT / "docs" / "job-file.md").read_text(encoding="utf-8")
EXAMPLES = ("library-terrace", "side-door-landing", "marsh-boardwalk")


@pytest.mark.parametrize("standard", list(kinds.Standard))
def test_the_template_is_the_same_job_in_both_languages(standard):
    english, japanese = (parse_job(job_template(standard, language)) for language in ("en", "ja"))
    assert english == japanese
    assert english.standard == standard
    assert english.name == "new floor"


@pytest.mark.parametrize("standard", list(kinds.Standard))
def test_every_remark_of_the_template_stands_in_both_languages(standard):
    english, japanese = (job_template(standard, language).splitlines() for language in ("en", "ja"))
    remarks = [[line.startswith("#") for line in text] for text in (english, japanese)]
    assert remarks[0] == remarks[1]
    assert sum(remarks[0]) >= 12
    for one, other in zip(english, japanese, strict=True):
        assert (one == other) is not one.startswith("#")
        assert not re.search("[ぁ-んァ-ン]", one)


def test_the_template_takes_any_name_safely():
    name = 'Ann\'s "porch" \\ 縁側'
    assert parse_job(files.job_template("japan", "ja", name=name)).name == name


@pytest.mark.parametrize(
    ("standard", "language", "where", "found", "nearest"),
    [("japan", "de", "language", "de", "en"), ("nippon", "en", "standard", "nippon", "japan")],
)
def test_a_template_of_another_kind_is_refused(standard, language, where, found, nearest):
    with pytest.raises(OutOfRangeError) as raised:
        job_template(standard, language)
    fault = raised.value.fault
    assert (fault.code, fault.where, fault.found, fault.nearest) == ("not-a-choice", where, found, nearest)


@pytest.mark.parametrize("standard", list(kinds.Standard))
def test_the_template_leaves_its_values_as_the_defaults_say(standard):
    """What the template spells out is what a file without it would have taken, the size and the ground aside."""
    full = parse_job(job_template(standard, "en"))
    lean = parse_job(_only(("name", "unit", "standard"), job_template(standard, "en")))
    assert full.frame == lean.frame
    assert full.floor.board == lean.floor.board
    assert (full.loads, full.crew, full.climate, full.finish) == (lean.loads, lean.crew, lean.climate, lean.finish)


def _only(keys, text):
    kept, is_in = [], False
    for line in text.splitlines():
        if line.startswith("["):
            is_in = line.startswith(("[site", "[[site", "[floor]"))
        if is_in or line.split(" ")[0] in keys:
            kept.append(line)
    return "\n".join(kept)


@pytest.mark.parametrize("name", EXAMPLES)
def test_an_example_is_read_with_its_log_and_its_timber_is_sold(name):
    job = read_job(ROOT / "examples" / name / "job.toml")
    read_log(ROOT / "examples" / name / "log.jsonl")
    yard = yard_for(job, read_shop(None, job.standard))
    board = job.floor.board
    assert yard.longest(species=board.species, width=board.width, depth=board.thickness) > 1800
    for timber in (job.frame.beam, job.frame.joist, job.frame.post):
        assert yard.longest(species=timber.species, width=timber.width, depth=timber.depth) > 1800


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_stack_of_an_example_fits_over_its_highest_reading(name):
    job = read_job(ROOT / "examples" / name / "job.toml")
    readings = [s.on + s.backsight - r.rod for s in job.site.stations for r in s.readings]
    readings += [level.z for level in job.site.levels]
    frame = job.frame
    joist = frame.joist.depth if frame.style is kinds.Style.STACKED else 0
    far = max(y for _, y in job.floor.outline)
    stack = job.floor.drop + job.floor.fall * far + job.floor.board.thickness + joist + frame.beam.depth
    assert -max(readings) - stack - frame.footing.height > 100
    assert len(readings) >= 12


@pytest.mark.parametrize("name", EXAMPLES)
def test_readings_of_an_example_are_irregular(name):
    job = read_job(ROOT / "examples" / name / "job.toml")
    places = [(r.x, r.y) for s in job.site.stations for r in s.readings]
    assert len({x for x, _ in places}) > 0.8 * len(places)
    assert any(s.closing is not None and s.closing != s.backsight for s in job.site.stations)


def test_every_key_stands_in_the_manual_with_its_range_and_its_defaults():
    rows = [*manual_rows(JobFile, has_defaults=True), *manual_rows(ShopFile, has_defaults=False)]
    assert tuple(key for key, _ in rows) == (*files.job_keys(), *files.shop_keys())
    for key, row in rows:
        assert row in MANUAL.splitlines(), key


def test_the_least_file_in_the_manual_is_read():
    least = MANUAL.split("```toml\n")[1].split("```")[0]
    assert parse_job(least).floor.board.species == "hinoki"
    assert len(least.splitlines()) <= 15


def test_the_log_in_the_manual_is_read():
    log = files.parse_log(MANUAL.split("```json\n")[1].split("```")[0])
    assert len(log.lines) == 4
    assert log.notes == ()
    assert [line.what for line in log.standing] == ["level", "post-gap"]


def test_every_key_and_kind_of_the_log_stands_in_the_manual():
    told = MANUAL.split("# The log\n")[1]
    for word in (*files.log_keys(), *files.log_kinds()):
        assert f"`{word}`" in told, word
    for kind in files.log_kinds():
        assert f"| `{kind}` |" in told, kind


def test_the_manual_names_no_key_that_there_is_not():
    known = {*files.job_keys(), *files.shop_keys(), *files.log_keys(), *files.log_kinds()}
    for row in MANUAL.splitlines():
        key = re.match(r"\| `([a-z_]+(?:\.[a-z_]+)*)` \|", row)
        if key:
            assert key[1] in known, row


@pytest.mark.parametrize("standard", list(kinds.Standard))
def test_every_default_is_in_the_manual_as_it_is(standard):
    column = {"japan": 2, "europe": 3, "north-america": 4}[standard]
    rows = {}
    for row in MANUAL.splitlines():
        cells = [cell.strip() for cell in row.strip("|").split("|")]
        if row.startswith("| `") and len(cells) == 5:
            rows[cells[0].strip("`")] = cells
    for key, value in _flat(defaults(standard)["job"]):
        assert rows[key][column] == _shown(value), key
    for key, value in _flat(defaults(standard)["each"]):
        assert rows[key][column] == _shown(value), key


def _flat(tree, path=()):
    for key, value in tree.items():
        if isinstance(value, dict):
            yield from _flat(value, (*path, key))
        else:
            yield ".".join((*path, key)), value


def _shown(value):
    return str(value).lower() if isinstance(value, bool) else str(value)


def test_the_keys_are_those_that_the_reader_takes():
    keys = set(files.job_keys())
    used = {
        key
        for name in EXAMPLES
        for key in _keys_in(tomllib.loads((ROOT / "examples" / name / "job.toml").read_text(encoding="utf-8")))
    }
    assert used <= keys
    assert {"floor.board.gap", "site.station.readings.rod", "stock.price_by", "frame.joints.seat"} <= keys
    assert len(keys) == len(files.job_keys())


def _keys_in(tree, path=()):
    for key, value in tree.items():
        yield ".".join((*path, key))
        for inner in value if isinstance(value, list) else [value]:
            if isinstance(inner, dict):
                yield from _keys_in(inner, (*path, key))


def test_the_schema_asks_only_for_what_has_no_default():
    schema = files.job_schema()
    assert schema["required"] == ["unit", "standard", "site", "floor"]
    tables = schema["$defs"]
    assert tables["ObstacleTable"]["required"] == ["name", "x", "y", "width", "depth"]
    assert all("required" not in tables[name] for name in ("SiteTable", "FloorTable", "FrameTable", "MemberTable"))
    assert all(table["additionalProperties"] is False for table in (schema, *tables.values()))


def test_the_schema_describes_every_key_and_is_plain_json():
    schema = files.job_schema()
    assert json.loads(json.dumps(schema)) == schema
    for table in (schema, *schema["$defs"].values()):
        for key in table["properties"].values():
            assert key["description"]


def test_the_schema_accepts_the_examples():
    for name in EXAMPLES:
        tree = tomllib.loads((ROOT / "examples" / name / "job.toml").read_text(encoding="utf-8"), parse_float=Decimal)
        _accepts(files.job_schema(), files.job_schema(), tree, name)


def _accepts(schema, root, value, where):
    """Assert that a value fits a schema, for the few words of JSON Schema that ours uses."""
    if "$ref" in schema:
        schema = root["$defs"][schema["$ref"].rsplit("/", 1)[-1]]
    if "anyOf" in schema:
        assert any(_fits(option, root, value) for option in schema["anyOf"]), where
        return
    names = {"string": str, "number": (int, Decimal), "integer": int, "boolean": bool, "array": list, "object": dict}
    kinds_of = schema["type"] if isinstance(schema["type"], list) else [schema["type"]]
    is_day = schema.get("format") == "date"
    assert is_day or any(isinstance(value, names[kind]) for kind in kinds_of if kind != "null"), where
    if "enum" in schema:
        assert value in schema["enum"], where
    if isinstance(value, dict):
        assert set(schema.get("required", [])) <= set(value), where
        for key, inner in value.items():
            _accepts(schema["properties"][key], root, inner, f"{where}.{key}")
    if isinstance(value, list):
        assert schema.get("minItems", 0) <= len(value) <= schema.get("maxItems", 10**6), where
        for index, inner in enumerate(value):
            _accepts(schema["items"], root, inner, f"{where}[{index}]")


def _fits(schema, root, value):
    try:
        _accepts(schema, root, value, "")
    except AssertionError:
        return False
    return True
