// Which spacers bring the last edge of a run of boards to its line, and where each is marked; as setting.boards.
import { NINETEEN_IN_TWENTY, SiteError } from "./fit.js";
import { exactSum } from "./linear.js";
import { roundEven } from "./rational.js";

const SAME = 1e-9;
const clamp = (value, low, high) => Math.min(Math.max(value, low), high);
const sum = (values) => values.reduce((total, value) => total + value, 0);

/** Gaps counted in steps of the spacer. */
class Ladder {
  constructor(last, spacing, count) {
    const { step } = spacing;
    this.low = Math.ceil(spacing.low / step - SAME);
    this.high = Math.floor(spacing.high / step + SAME);
    this.begin = last === null ? null : clamp(roundEven(last / step), this.low, this.high);
    this.stride = Math.floor(spacing.seen / step + SAME);
    this.count = count;
    this.step = step;
  }

  at(level) {
    const out = [];
    for (let i = 1; i <= this.count; i++) {
      const [begin, stride] = [this.begin, this.stride];
      out.push(begin === null ? level : clamp(level, begin - i * stride, begin + i * stride));
    }
    return out;
  }

  kept() {
    return this.at(this.begin === null ? this.low : this.begin).map((gap) => gap * this.step);
  }

  nearest(room, within) {
    if (!this.count) return [];
    const even = roundEven(room / this.count / this.step);
    const first = this.begin === null ? [] : [this.begin];
    for (const level of [...first, clamp(even, this.low, this.high)]) {
      const gaps = this.at(level);
      const isNear = Math.abs(sum(gaps) * this.step - room) <= within + SAME;
      if (isNear && new Set(gaps).size === 1) return gaps.map((gap) => gap * this.step);
    }
    const level = this.level(room);
    const gaps = this.at(level);
    let over = roundEven((room - sum(gaps) * this.step) / this.step);
    if (level < this.high) {
      const higher = this.at(level + 1);
      for (let i = this.count - 1; i >= 0 && over > 0; i--) {
        if (higher[i] > gaps[i]) {
          gaps[i] = higher[i];
          over -= 1;
        }
      }
    }
    return gaps.map((gap) => gap * this.step);
  }

  level(room) {
    let [low, high] = [this.low, this.high];
    while (low < high) {
      const middle = Math.floor((low + high + 1) / 2);
      if (sum(this.at(middle)) * this.step <= room + SAME) low = middle;
      else high = middle - 1;
    }
    return low;
  }
}

function check(run, spacing) {
  if (!run.widths.length) throw new SiteError("run-done", `${run.left} mm`);
  const { low, high, step, within, seen } = spacing;
  const isFit = low >= 0 && low <= high && step > 0 && within > 0;
  if (!isFit || Math.floor(high / step + SAME) < Math.ceil(low / step - SAME)) {
    throw new SiteError("spacing-unfit", `${low} … ${high} mm, step ${step} mm`);
  }
  if (seen < step) throw new SiteError("spacing-unfit", `${step} mm`);
}

function ripOf(widths, misses, spacing, gaps) {
  if (misses < 0) {
    const strip = -misses - (gaps.length ? gaps[gaps.length - 1] : spacing.low);
    return { count: 0, width: strip >= spacing.ripMin ? strip : 0 };
  }
  for (let count = 1; count <= widths.length; count++) {
    const width = (exactSum(widths.slice(widths.length - count)) - misses) / count;
    if (width >= spacing.ripMin) return { count, width };
  }
  return { count: widths.length, width: 0 };
}

/**
 * The spacers for boards to come: run {left, widths, lastGap, leftSigma, widthSigma, commonSigma}, spacing {low, high,
 * step, seen, within, ripMin} [mm]. Returns {batches [{count, gap}], gaps, even, misses, sure, rip}.
 */
export function runningGap(run, spacing) {
  check(run, spacing);
  const { widths } = run;
  const count = widths.length - (run.lastGap === null ? 1 : 0);
  const room = run.left - exactSum(widths);
  const spread = run.leftSigma ** 2 + widths.length * run.widthSigma ** 2 + (widths.length * run.commonSigma) ** 2;
  const ladder = new Ladder(run.lastGap, spacing, count);
  let gaps = ladder.nearest(room, spacing.within);
  let misses = exactSum(gaps) - room;
  let rip = null;
  if (Math.abs(misses) > spacing.within + SAME) {
    const kept = ladder.kept();
    const over = exactSum(kept) - room;
    if (misses > 0 && widths[widths.length - 1] - over >= spacing.ripMin) [gaps, misses] = [kept, over];
    rip = ripOf(widths, misses, spacing, gaps);
  }
  const batches = [];
  for (const gap of gaps) {
    const last = batches[batches.length - 1];
    if (last && last.gap === gap) last.count += 1;
    else batches.push({ count: 1, gap });
  }
  const even = count ? room / count : 0;
  return { batches, gaps, even, misses, sure: NINETEEN_IN_TWENTY * Math.sqrt(spread), rip };
}

/** Both edges of every row still to lay, as running dimensions from the starting edge [mm]. */
export function boardMarks(rows, { laidTo, gaps, widths, every = 1 }) {
  const before = laidTo === null ? [0, ...gaps] : gaps;
  let edge = laidTo ?? 0;
  const out = [];
  rows.forEach((row, k) => {
    const near = edge + before[k];
    edge = edge + before[k] + widths[k];
    const isMarked = (k + 1) % every === 0 || k === rows.length - 1;
    if (isMarked) out.push({ row: row.number, near, far: edge, plannedNear: row.near, plannedFar: row.far });
  });
  return out;
}
