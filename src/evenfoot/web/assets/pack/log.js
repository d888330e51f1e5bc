// The site log: facts that are only ever added, what stands of them, what disagrees; as evenfoot.job.
import { sha256 } from "./sha256.js";
import { fixed } from "./rational.js";

/** The keys of a line in the order that they are written. */
const KEYS = [
  "time",
  "what",
  "mark",
  "x_mm",
  "y_mm",
  "value_mm",
  "value_pct",
  "accuracy_mm",
  "stand",
  "away_mm",
  "instrument",
  "who",
  "of",
];

/** A fact with only what it says, in order, figures to a tenth of a micrometre. */
export function tidyLine(line) {
  const out = {};
  for (const key of KEYS) {
    const value = line[key];
    if (value === undefined || value === null || value === "") continue;
    out[key] = typeof value === "number" ? Number(fixed(value, 4)) + 0 : value;
  }
  return out;
}

/** A text in plain ASCII, as Python's json.dumps writes it. */
const quoted = (text) =>
  JSON.stringify(text).replace(/[\u007f-\uffff]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`);

/** The id of a line: a short hash of what it says, the same in every copy of the log. */
export function idOf(line) {
  const said = tidyLine(line);
  const parts = Object.keys(said)
    .sort()
    .map((key) => {
      const value = said[key];
      const isWhole = typeof value === "number" && Number.isInteger(value);
      return `${quoted(key)}:${isWhole ? String(value) : quoted(String(value))}`;
    });
  return sha256(`{${parts.join(",")}}`).slice(0, 10);
}

/** A line as it stands in the file. */
export const written = (line) => JSON.stringify(tidyLine(line)).replaceAll('":', '": ').replaceAll(',"', ', "');

/** Day and time with the offset of the place, to a second: the same form as the engine writes. */
export function timeNow(now = new Date()) {
  const two = (value) => String(Math.trunc(Math.abs(value))).padStart(2, "0");
  const offset = -now.getTimezoneOffset();
  const day = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  const clock = `${two(now.getHours())}:${two(now.getMinutes())}:${two(now.getSeconds())}`;
  return `${day}T${clock}${offset < 0 ? "-" : "+"}${two(offset / 60)}:${two(offset % 60)}`;
}

const keyOf = (line) => JSON.stringify([line.mark ?? "", line.x_mm ?? null, line.y_mm ?? null, line.stand ?? ""]);
export const valueOf = (line) => line.value_mm ?? line.value_pct ?? 0;

/** The facts that count: no line that a later one takes back, and no undo. */
export function standing(lines) {
  const undone = new Set();
  const kept = [];
  for (let k = lines.length - 1; k >= 0; k--) {
    const line = lines[k];
    if (undone.has(line.id)) continue;
    if (line.what === "undo") undone.add(line.of);
    else kept.unshift(line);
  }
  return kept;
}

/** The last standing line of a kind on each thing, in the order that the things were first read. */
export function latest(lines, what) {
  const found = new Map();
  for (const line of standing(lines)) if (line.what === what) found.set(keyOf(line), line);
  return [...found.values()];
}

/** The union of two logs: every line of the first, then those of the second that it lacks. */
export function union(first, second) {
  const known = new Set(first.map((line) => line.id));
  return [...first, ...second.filter((line) => !known.has(line.id) && known.add(line.id))];
}

/** Readings of one thing that stand and differ: [[the one that counts, an earlier one ..] ..]. */
export function conflicts(lines) {
  const groups = new Map();
  for (const line of standing(lines)) {
    if (line.what === "jack" || line.what === "level") continue;
    const key = `${line.what} ${keyOf(line)}`;
    groups.set(key, [line, ...(groups.get(key) ?? [])]);
  }
  return [...groups.values()].filter((group) => group.some((line) => valueOf(line) !== valueOf(group[0])));
}
