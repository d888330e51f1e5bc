// Which adjustable feet to turn how far, so that the fewest are touched, and in which order; as evenfoot.setting.level.
import { apply } from "./linear.js";
import { roundEven, roundTo } from "./rational.js";

const NOTHING = 1e-6;
const sorted = (values) => [...new Set(values)].sort((a, b) => a - b);

function isBetter(cost, best) {
  const k = cost.findIndex((value, i) => value !== best[i]);
  return k >= 0 && cost[k] < best[k];
}

/** {steps, left, isWithin} by mark for feet that lie ``off`` [[mark, mm]]; thread {pitch, perTurn}. */
export function bestTurns(off, thread, within) {
  const values = off.map(([, value]) => value);
  const step = thread.pitch / thread.perTurn;
  const [least, most] = [Math.min(...values), Math.max(...values)];
  const reach = Math.ceil((most - least + within) / step) + 1;
  const rungs = values.flatMap((value) =>
    Array.from({ length: 2 * reach + 1 }, (_, k) => value + step * (k - reach)),
  );
  const ends = sorted(rungs.flatMap((rung) => [rung - within, rung, rung + within]));
  const between = ends.slice(1).map((end, k) => (end + ends[k]) / 2);
  let best = null;
  for (const height of sorted([...ends, ...between, (most + least) / 2])) {
    if (height < least - within || height > most + within) continue;
    const steps = values.map((v) =>
      Math.abs(height - v) <= within + 1e-9 ? 0 : roundEven(roundTo((height - v) / step, 9)),
    );
    const left = values.map((value, k) => value + steps[k] * step - height);
    const worst = Math.max(...left.map(Math.abs));
    const total = steps.reduce((sum, value) => sum + Math.abs(value), 0);
    const misses = Math.max(0, worst - within - 1e-9);
    const cost = [misses, steps.filter(Boolean).length, total, roundTo(worst, 9), height];
    if (best === null || isBetter(cost, best.cost)) best = { cost, steps, left };
  }
  return {
    steps: new Map(off.map(([mark], k) => [mark, best.steps[k] + 0])),
    left: new Map(off.map(([mark], k) => [mark, best.left[k]])),
    isWithin: best.cost[0] === 0,
  };
}

/** The order in which to turn the feet [{mark, steps, lifts}]; press is what the bare frame's feet press, or null. */
export function orderVisits(turns, thread, press) {
  const left = new Map([...turns.steps].filter(([, steps]) => steps));
  if (press === null) return rounds(left, thread);
  const step = thread.pitch / thread.perTurn;
  const heights = press.marks.map((mark) => -(left.get(mark) ?? 0) * step);
  const visits = [];
  while (left.size) {
    const visit = nextVisit(left, heights, press, step);
    visits.push(visit);
    heights[press.marks.indexOf(visit.mark)] += visit.steps * step;
    const rest = left.get(visit.mark) - visit.steps;
    if (rest) left.set(visit.mark, rest);
    else left.delete(visit.mark);
  }
  return visits;
}

function rounds(left, thread) {
  const todo = new Map([...left].sort(([, a], [, b]) => Math.abs(b) - Math.abs(a)));
  const visits = [];
  while (todo.size) {
    for (const [mark, rest] of [...todo]) {
      const steps = Math.max(-thread.perTurn, Math.min(thread.perTurn, rest));
      visits.push({ mark, steps, lifts: [] });
      if (rest === steps) todo.delete(mark);
      else todo.set(mark, rest - steps);
    }
  }
  return visits;
}

const compare = (a, b) => (a < b ? -1 : a > b ? 1 : 0);

/** Negative where a comes before b, both compared part by part. */
function byParts(a, b) {
  for (let k = 0; k < a.length; k++) if (compare(a[k], b[k])) return compare(a[k], b[k]);
  return 0;
}

function nextVisit(left, heights, press, step) {
  const now = apply(press.stiffness, heights).map((value, i) => value + press.level[i]);
  const [safe, bad] = [[], []];
  for (const [mark, steps] of left) {
    const place = press.marks.indexOf(mark);
    for (let size = Math.abs(steps); size > 0; size--) {
      const signed = steps > 0 ? size : -size;
      const then = now.map((value, i) => value + press.stiffness[i][place] * signed * step);
      const lifted = then.flatMap((value, i) => (value < -NOTHING && now[i] >= -NOTHING && i !== place ? [i] : []));
      if (!lifted.length) {
        safe.push([size === Math.abs(steps) ? 1 : 0, size, Math.min(...then), mark, signed]);
        break;
      }
      if (size === Math.abs(steps)) {
        const lifts = lifted.map((i) => press.marks[i]);
        bad.push([lifts.length, Math.min(...lifted.map((i) => -then[i])), mark, signed, lifts]);
      }
    }
  }
  if (safe.length) {
    const best = safe.reduce((a, b) => (byParts(b, a) > 0 ? b : a));
    return { mark: best[3], steps: best[4], lifts: [] };
  }
  const best = bad.reduce((a, b) => (byParts(b.slice(0, 4), a.slice(0, 4)) < 0 ? b : a));
  return { mark: best[2], steps: best[3], lifts: best[4] };
}
