// Which one-sided contacts press and which stand clear, exactly; as evenfoot.solvers.complementarity.
// Source: the dual active set method of D. Goldfarb and A. Idnani, Mathematical Programming 27 (1983), 1-33.
import { inverse, rankOf } from "./linear.js";

const PULL = 1e-10;
const LEAST_PIVOT = 1e-10;
const SKETCHES = 5;
const MOST_STEPS = 40;
const KEPT = 20_000_000;

/** Settles one set of contacts under any number of cases; what it learns of one case serves the next. */
export class Settler {
  /** flexibility (n, n) [gap per force], modes (n, m) free motions, isTwoWay (n) contacts that may pull. */
  constructor(flexibility, modes, isTwoWay) {
    this.n = modes.length;
    this.m = this.n ? modes[0].length : 0;
    this.modes = modes;
    this.isTwoWay = isTwoWay;
    this.diagonal = Float64Array.from(flexibility, (row, i) => row[i]);
    const size = this.n + this.m;
    this.size = size;
    this.flexibility = flexibility;
    this.give = new Float64Array(size * this.n);
    flexibility.forEach((row, i) => this.give.set(row, i * this.n));
    for (let k = 0; k < this.m; k++) {
      for (let i = 0; i < this.n; i++) this.give[(this.n + k) * this.n + i] = modes[i][k];
    }
    this.inverses = new Map();
    this.holds = new Map();
    this.right = new Float64Array(size);
    this.found = new Float64Array(size);
    this.gap = new Float64Array(this.n);
  }

  key(touching) {
    let text = "";
    for (let i = 0; i < this.n; i += 16) {
      let code = 0;
      for (let k = 0; k < 16 && i + k < this.n; k++) if (touching[i + k]) code |= 1 << k;
      text += String.fromCharCode(code);
    }
    return text;
  }

  inverseOf(touching) {
    const key = this.key(touching);
    const known = this.inverses.get(key);
    if (known) return known;
    const { n, m, size } = this;
    const matrix = Array.from({ length: size }, () => new Array(size).fill(0));
    for (let i = 0; i < n; i++) {
      if (!touching[i]) {
        matrix[i][i] = 1;
        continue;
      }
      for (let k = 0; k < n; k++) if (touching[k]) matrix[i][k] = this.flexibility[i][k];
      for (let k = 0; k < m; k++) matrix[i][n + k] = matrix[n + k][i] = this.modes[i][k];
    }
    const flat = Float64Array.from(inverse(matrix).flat());
    if ((this.inverses.size + 1) * size * size > KEPT) this.inverses.clear();
    this.inverses.set(key, flat);
    return flat;
  }

  /** Whether a set of contacts holds every free motion. */
  isHolding(touching) {
    const key = this.key(touching);
    if (!this.holds.has(key)) {
      const rows = this.modes.filter((_, i) => touching[i]);
      this.holds.set(key, this.m === 0 || rankOf(rows, Math.sqrt(LEAST_PIVOT)) === this.m);
    }
    return this.holds.get(key);
  }

  /** Forces, modes (in this.found) and gaps (in this.gap) with these contacts touching and one lifted by ``lift``. */
  state(offset, total, touching, rising = -1, lift = 0) {
    const { n, size, right, found, gap, give } = this;
    const turn = this.inverseOf(touching);
    for (let i = 0; i < n; i++) right[i] = touching[i] ? -offset[i] : 0;
    for (let k = n; k < size; k++) right[k] = total[k - n];
    if (rising >= 0) right[rising] += lift;
    for (let i = 0; i < size; i++) {
      let value = 0;
      for (let k = 0, at = i * size; k < size; k++, at++) value += turn[at] * right[k];
      found[i] = value;
    }
    gap.set(offset);
    for (let k = 0, at = 0; k < size; k++) {
      const force = found[k];
      for (let i = 0; i < n; i++, at++) gap[i] += force * give[at];
    }
    return turn;
  }

  /**
   * How the body rests: {press, gap, modes, isTouching, isHeld}; offset (n) gaps without forces, total (m) what the
   * forces must add up to, guess contacts that probably touch.
   */
  settle(offset, total, guess = null) {
    const { n } = this;
    const all = new Uint8Array(n).fill(1);
    this.state(offset, total, all);
    let most = 0;
    for (let i = 0; i < n; i++) most = Math.max(most, Math.abs(this.found[i]));
    const least = PULL * most;
    let tried = all;
    if (guess) {
      const wanted = Uint8Array.from(guess, (touches, i) => (touches || this.isTwoWay[i] ? 1 : 0));
      if (this.isHolding(wanted)) tried = wanted;
    }
    const touching = this.sketch(offset, total, tried, least);
    return this.finish(offset, total, touching, least);
  }

  /** A few quick rounds: let go all that pull and take up all that are crushed; begin where all others are clear. */
  sketch(offset, total, tried, least) {
    let kept = new Uint8Array(this.n).fill(1);
    for (let turn = 0; turn <= SKETCHES; turn++) {
      this.state(offset, total, tried);
      let [isClear, isOpen] = [true, false];
      const next = Uint8Array.from(tried);
      for (let i = 0; i < this.n; i++) {
        if (tried[i] && this.found[i] < -least && !this.isTwoWay[i]) [next[i], isOpen] = [0, true];
        if (!tried[i] && this.gap[i] < 0) [next[i], isClear] = [1, false];
      }
      if (isClear) kept = tried;
      if (isClear && !isOpen) return kept;
      if (!this.isHolding(next)) return kept;
      tried = next;
    }
    return kept;
  }

  finish(offset, total, begun, least) {
    const touching = Uint8Array.from(begun);
    const { n, m, isTwoWay } = this;
    let [rising, lift] = [-1, 0];
    for (let step = 0; step < MOST_STEPS * n; step++) {
      const turn = this.state(offset, total, touching, rising, lift);
      if (rising < 0) {
        let lowest = -1;
        for (let i = 0; i < n; i++) {
          if (!isTwoWay[i] && (lowest < 0 || this.found[i] < this.found[lowest])) lowest = i;
        }
        if (lowest < 0 || this.found[lowest] >= -least) return this.rest(touching);
        [rising, lift] = [lowest, 0];
      }
      const move = this.raise(turn, touching, rising);
      if (move === null) {
        const lost = new Float64Array(n).fill(NaN);
        return {
          press: lost,
          gap: lost,
          modes: new Float64Array(m).fill(NaN),
          isTouching: touching,
          isHeld: false,
        };
      }
      if (move.isWhole) {
        touching[rising] = 0;
        rising = -1;
      } else {
        lift += move.by;
        touching[move.closes] = 1;
      }
    }
    throw new Error("a finite method did not end");
  }

  rest(touching) {
    const { n, m } = this;
    const [press, gap] = [new Float64Array(n), new Float64Array(n)];
    for (let i = 0; i < n; i++) {
      if (touching[i]) press[i] = this.found[i];
      else gap[i] = Math.max(this.gap[i], 0);
    }
    return { press, gap, modes: this.found.slice(n, n + m), isTouching: touching, isHeld: true };
  }

  /** How far the rising contact goes: all the way, or until another one closes; null where no forces hold the body. */
  raise(turn, touching, rising) {
    const { n, size, give } = this;
    const opening = new Float64Array(n);
    for (let k = 0, at = 0; k < size; k++) {
      const way = turn[k * size + rising];
      for (let i = 0; i < n; i++, at++) opening[i] += way * give[at];
    }
    const pivot = turn[rising * size + rising];
    const isFree = pivot * this.diagonal[rising] > LEAST_PIVOT;
    const whole = isFree ? -this.found[rising] / pivot : Infinity;
    let most = 0;
    for (let i = 0; i < n; i++) most = Math.max(most, Math.abs(opening[i]));
    let [part, closes] = [Infinity, 0];
    for (let i = 0; i < n; i++) {
      if (touching[i] || opening[i] >= -1e-12 * most) continue;
      const room = Math.max(this.gap[i], 0) / -opening[i];
      if (room < part) [part, closes] = [room, i];
    }
    if (whole === Infinity && part === Infinity) return null;
    return whole <= part ? { isWhole: true } : { isWhole: false, by: part, closes };
  }
}
