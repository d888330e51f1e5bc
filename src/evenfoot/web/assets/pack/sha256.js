// SHA-256 of a text. Source: FIPS 180-4 (2015), 6.2. A page from a file or over plain http has no other.

function primes(count) {
  const found = [];
  for (let n = 2; found.length < count; n++) if (found.every((p) => n % p)) found.push(n);
  return found;
}

const fraction = (value) => Math.floor((value - Math.floor(value)) * 2 ** 32) | 0;
const START = primes(8).map((p) => fraction(Math.sqrt(p)));
const ROUND = primes(64).map((p) => fraction(Math.cbrt(p)));
const turn = (word, by) => (word >>> by) | (word << (32 - by));

function padded(bytes) {
  const size = Math.ceil((bytes.length + 9) / 64) * 64;
  const out = new DataView(new ArrayBuffer(size));
  bytes.forEach((byte, k) => out.setUint8(k, byte));
  out.setUint8(bytes.length, 0x80);
  out.setUint32(size - 8, Math.floor(bytes.length / 2 ** 29));
  out.setUint32(size - 4, (bytes.length * 8) >>> 0);
  return out;
}

function block(state, view, at) {
  const words = new Int32Array(64);
  for (let k = 0; k < 16; k++) words[k] = view.getInt32(at + 4 * k);
  for (let k = 16; k < 64; k++) {
    const [a, b] = [words[k - 15], words[k - 2]];
    const low = turn(a, 7) ^ turn(a, 18) ^ (a >>> 3);
    const high = turn(b, 17) ^ turn(b, 19) ^ (b >>> 10);
    words[k] = (words[k - 16] + low + words[k - 7] + high) | 0;
  }
  let [a, b, c, d, e, f, g, h] = state;
  for (let k = 0; k < 64; k++) {
    const choice = (e & f) ^ (~e & g);
    const first = (h + (turn(e, 6) ^ turn(e, 11) ^ turn(e, 25)) + choice + ROUND[k] + words[k]) | 0;
    const second = ((turn(a, 2) ^ turn(a, 13) ^ turn(a, 22)) + ((a & b) ^ (a & c) ^ (b & c))) | 0;
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + first) | 0, c, b, a, (first + second) | 0];
  }
  return [a, b, c, d, e, f, g, h].map((word, k) => (word + state[k]) | 0);
}

/** The hash of a text in UTF-8. */
export function sha256(text) {
  const view = padded(new TextEncoder().encode(text));
  let state = START;
  for (let at = 0; at < view.byteLength; at += 64) state = block(state, view, at);
  return state.map((word) => (word >>> 0).toString(16).padStart(8, "0")).join("");
}
