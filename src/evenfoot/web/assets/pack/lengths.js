// Lengths as people type and read them: mm, feet-inch fractions, shaku; the same as evenfoot.units.
import { add, floor, fromShortest, fromText, isLess, negative, over, ratio, times, toNumber } from "./rational.js";

const INCH = ratio(254n, 10n);
const SHAKU = ratio(10000n, 33n);
const LONGEST = 80;
const MOST_DIGITS = 15;
const NUMBER = String.raw`\d+[ -]+\d+/\d+|\d+/\d+|\d+\.\d+|\.\d+|\d+`;

const unit = (name, family, mm, step) => [name, { name, family, mm, step }];
const part = (whole, count) => over(whole, ratio(BigInt(count)));

/** Every unit with its length [mm] and the step that it is written to [mm]. */
export const UNITS = new Map([
  unit("mm", "metric", ratio(1n), ratio(1n, 2n)),
  unit("cm", "metric", ratio(10n), ratio(1n, 2n)),
  unit("m", "metric", ratio(1000n), ratio(1n)),
  unit("in", "inch", INCH, part(INCH, 16)),
  unit("ft", "inch", times(INCH, ratio(12n)), part(INCH, 16)),
  unit("rin", "shaku", part(SHAKU, 1000), part(SHAKU, 1000)),
  unit("bu", "shaku", part(SHAKU, 100), part(SHAKU, 100)),
  unit("sun", "shaku", part(SHAKU, 10), part(SHAKU, 100)),
  unit("shaku", "shaku", SHAKU, part(SHAKU, 100)),
  unit("ken", "shaku", times(SHAKU, ratio(6n)), part(SHAKU, 100)),
]);

const SPELLINGS = new Map(
  [
    ["mm", "mm millimetre millimetres millimeter millimeters ミリ"],
    ["cm", "cm centimetre centimetres centimeter centimeters センチ"],
    ["m", "m metre metres meter meters メートル"],
    ["in", 'in inch inches "'],
    ["ft", "ft foot feet '"],
    ["ken", "間 ken"],
    ["shaku", "尺 shaku"],
    ["sun", "寸 sun"],
    ["bu", "分 bu"],
    ["rin", "厘 rin"],
  ].flatMap(([name, words]) => words.split(" ").map((word) => [word, name])),
);
const PRIMES = new Map([..."′’‘"].map((c) => [c, "'"]).concat([..."”“″"].map((c) => [c, '"'])));
for (const c of "−–") PRIMES.set(c, "-");
PRIMES.set("⁄", "/");

/** What was typed cannot be a length; ``code`` as in evenfoot.units. */
export class LengthError extends Error {
  constructor(code, found) {
    super(`${code}: ${found}`);
    this.code = code;
    this.found = found;
  }
}

const plainly = (text) => [...text].map((c) => PRIMES.get(c) ?? c).join("");

function plain(text) {
  const opened = [...text].map((c) => (/\p{No}/u.test(c) ? ` ${c}` : c)).join("");
  return plainly(plainly(opened).normalize("NFKC")).replaceAll("''", '"').trim();
}

function number(digits) {
  if (digits.match(/\d+/g).some((run) => run.length > MOST_DIGITS)) return null;
  const tidy = digits.replace(/[ -]+/g, " ");
  const at = tidy.lastIndexOf(" ");
  const [whole, broken] = at < 0 ? ["0", tidy] : [tidy.slice(0, at), tidy.slice(at + 1)];
  if (/\/0+$/.test(broken)) return null;
  const [top, bottom] = broken.split("/");
  const value = bottom === undefined ? fromText(top) : ratio(BigInt(top), BigInt(bottom));
  return add(fromText(whole), value);
}

function terms(text, body, declared) {
  const term = new RegExp(`(${NUMBER})\\s*([^\\d\\s.,/-]*)\\.?`, "y");
  const between = /[\s-]*/y;
  const found = [];
  let place = 0;
  while (place < body.length) {
    term.lastIndex = place;
    const match = term.exec(body);
    const value = match ? number(match[1]) : null;
    if (value === null) throw new LengthError("length-unread", text);
    const word = match[2].toLowerCase();
    const isAlone = found.length === 0 && term.lastIndex === body.length;
    if (word && !SPELLINGS.has(word)) throw new LengthError("length-unit-unknown", text);
    if (!word && !isAlone) throw new LengthError("length-unread", text);
    found.push([value, word ? UNITS.get(SPELLINGS.get(word)) : declared]);
    between.lastIndex = term.lastIndex;
    between.exec(body);
    place = between.lastIndex;
  }
  if (!found.length || body.endsWith("-")) throw new LengthError("length-unread", text);
  return found;
}

function check(text, found) {
  if (new Set(found.map(([, u]) => u.family)).size > 1) throw new LengthError("length-units-mixed", text);
  for (let k = 1; k < found.length; k++) {
    const [[large, larger], [small, smaller]] = [found[k - 1], found[k]];
    if (large.d !== 1n || !isLess(smaller.mm, larger.mm)) throw new LengthError("length-unread", text);
    if (!isLess(times(small, smaller.mm), larger.mm)) throw new LengthError("length-part-too-large", text);
  }
}

/** A typed length exactly [mm]; a bare number is in ``unitName``. Throws LengthError. */
export function parseExact(text, unitName) {
  const declared = UNITS.get(unitName);
  if (text.length > LONGEST) throw new LengthError("length-unread", text);
  const [, sign, body] = /^\s*([+-]?)\s*([^]*)$/.exec(plain(text));
  const found = terms(text, body, declared);
  check(text, found);
  const total = found.reduce((sum, [value, u]) => add(sum, times(value, u.mm)), ratio(0n));
  return sign === "-" ? negative(total) : total;
}

/** A typed length as a double [mm]. Throws LengthError. */
export const parseLength = (text, unitName) => toNumber(parseExact(text, unitName));

function decimalText(value) {
  const scaled = times(value, ratio(1000000n));
  if (scaled.d === 1n) {
    const digits = scaled.n.toString().padStart(7, "0");
    return `${digits.slice(0, -6)}.${digits.slice(-6)}`.replace(/\.?0+$/, "");
  }
  const whole = floor(value);
  const rest = add(value, ratio(-whole));
  return whole ? `${whole} ${rest.n}/${rest.d}` : `${rest.n}/${rest.d}`;
}

function inches(size, hasFeet) {
  let count = over(size, INCH);
  let feet = 0n;
  if (hasFeet) {
    feet = floor(over(count, ratio(12n)));
    count = add(count, ratio(-12n * feet));
  }
  const whole = floor(count);
  const broken = add(count, ratio(-whole));
  const said = broken.n ? `${whole ? `${whole} ` : ""}${broken.n}/${broken.d}` : `${whole}`;
  if (!feet) return `${said}"`;
  return count.n ? `${feet}' ${said}"` : `${feet}'`;
}

function shaku(size) {
  let rest = size;
  let said = "";
  for (const [mark, divisor] of [
    ["尺", 1],
    ["寸", 10],
    ["分", 100],
    ["厘", 1000],
  ]) {
    const length = part(SHAKU, divisor);
    const count = floor(over(rest, length));
    rest = add(rest, negative(times(ratio(count), length)));
    if (mark === "厘" && rest.n) said += `${decimalText(add(ratio(count), over(rest, length)))}${mark}`;
    else if (count) said += `${count}${mark}`;
  }
  return said || "0分";
}

/** The multiple of ``step`` nearest to a length [mm], halves away from zero, exactly. */
export function roundLength(mm, step) {
  const value = fromShortest(mm);
  const size = value.n < 0n ? negative(value) : value;
  const whole = floor(add(over(size, step), ratio(1n, 2n)));
  const rounded = times(ratio(whole), step);
  return value.n < 0n ? negative(rounded) : rounded;
}

/** A length [mm] in a unit, rounded to ``step`` [mm] or the unit's own. */
export function formatLength(mm, unitName, step = null) {
  const scale = UNITS.get(unitName);
  const rounded = roundLength(mm, step ?? scale.step);
  const [sign, size] = rounded.n < 0n ? ["-", negative(rounded)] : ["", rounded];
  if (scale.family === "inch") return sign + inches(size, unitName === "ft");
  if (scale.family === "shaku") return sign + shaku(size);
  const isWholeMetre = unitName === "m" && size.d === 1n;
  const text = isWholeMetre ? (Number(size.n) / 1000).toFixed(3) : decimalText(over(size, scale.mm));
  return `${sign}${text} ${unitName}`;
}
