// Exact fractions and decimal writing: what Python's Fraction and format() give, digit for digit.

/** A fraction in lowest terms with a positive denominator. */
export function ratio(n, d = 1n) {
  if (d < 0n) [n, d] = [-n, -d];
  let [a, b] = [n < 0n ? -n : n, d];
  while (b) [a, b] = [b, a % b];
  return a > 1n ? { n: n / a, d: d / a } : { n, d };
}

export const add = (a, b) => ratio(a.n * b.d + b.n * a.d, a.d * b.d);
export const times = (a, b) => ratio(a.n * b.n, a.d * b.d);
export const over = (a, b) => ratio(a.n * b.d, a.d * b.n);
export const negative = (a) => ({ n: -a.n, d: a.d });
export const isLess = (a, b) => a.n * b.d < b.n * a.d;

/** The whole part, rounded down. */
export function floor(a) {
  const whole = a.n / a.d;
  return a.n % a.d !== 0n && a.n < 0n ? whole - 1n : whole;
}

/** The nearest double; exact for all that fits into one. */
export function toNumber(a) {
  const [n, d] = [a.n < 0n ? -a.n : a.n, a.d];
  if (n < 1n << 53n && d < 1n << 53n) return Number(a.n) / Number(a.d);
  // Scale so that the quotient has 66 bits, the last one sticky: its rounding to 53 bits is then the true one.
  const shift = BigInt(66 - (n.toString(2).length - d.toString(2).length));
  const [top, bottom] = shift >= 0n ? [n << shift, d] : [n, d << -shift];
  const whole = (top / bottom) | (top % bottom === 0n ? 0n : 1n);
  const value = Number(whole) * 2 ** Number(-shift);
  return a.n < 0n ? -value : value;
}

/** A decimal text such as 12.5, .5 or 1e-7 exactly. */
export function fromText(text) {
  const found = /^([+-]?)(\d*)(?:\.(\d*))?(?:e([+-]?\d+))?$/i.exec(text);
  if (!found) throw new Error(`no decimal: ${text}`);
  const [, sign, whole, part = "", power = "0"] = found;
  const digits = BigInt(`${whole}${part}` || "0") * (sign === "-" ? -1n : 1n);
  const scale = BigInt(power) - BigInt(part.length);
  return scale >= 0n ? ratio(digits * 10n ** scale) : ratio(digits, 10n ** -scale);
}

/** A double as it reads in its shortest decimal: 0.1 is one tenth. */
export const fromShortest = (value) => fromText(String(value));

/** A double as it really is in binary. */
export function fromDouble(value) {
  let power = 0n;
  while (!Number.isInteger(value)) [value, power] = [value * 2, power + 1n];
  return ratio(BigInt(value), 1n << power);
}

/** Like Python's f"{value:.{places}f}": the binary value, halves to even. */
export function fixed(value, places) {
  if (!Number.isFinite(value)) return String(value);
  const exact = fromDouble(Math.abs(value));
  const scaled = times(exact, ratio(10n ** BigInt(places)));
  let whole = floor(scaled);
  const rest = add(scaled, ratio(-whole));
  const twice = { n: rest.n * 2n, d: rest.d };
  if (twice.n > twice.d || (twice.n === twice.d && whole % 2n === 1n)) whole += 1n;
  const digits = whole.toString().padStart(places + 1, "0");
  const text = places ? `${digits.slice(0, -places)}.${digits.slice(-places)}` : digits;
  return value < 0 || Object.is(value, -0) ? `-${text}` : text;
}

/** Like Python's f"{value:.{figures}g}". */
export function general(value, figures = 6) {
  if (value === 0 || !Number.isFinite(value)) return Object.is(value, -0) ? "-0" : String(value);
  const [mantissa, power] = value.toExponential(figures - 1).split("e");
  const exponent = Number(power);
  const trim = (text) => (text.includes(".") ? text.replace(/\.?0+$/, "") : text);
  if (exponent < -4 || exponent >= figures) {
    const size = String(Math.abs(exponent)).padStart(2, "0");
    return `${trim(mantissa)}e${exponent < 0 ? "-" : "+"}${size}`;
  }
  return trim(fixed(value, Math.max(0, figures - 1 - exponent)));
}

/** Like Python's round(value): halves to even. */
export function roundEven(value) {
  const low = Math.floor(value);
  const rest = value - low;
  if (rest !== 0.5) return rest < 0.5 ? low : low + 1;
  return low % 2 === 0 ? low : low + 1;
}

/** Like Python's round(value, places) for a double. */
export const roundTo = (value, places) => (Number.isFinite(value) ? Number(fixed(value, places)) : value);
