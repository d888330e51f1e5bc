// What makes a rocking floor steady: posts that change places, else the fewest to shave or pack; as setting.posts.
//
// The engine rules smaller sets of posts out by an integer program. Here every smaller set is tried on the floor
// itself, up to so many standings: then the number is proved too, else the answer says so.
import { firstGreatest } from "./walk.js";
import { mostSteps, sumOfSquares } from "./goal.js";
import { roundTo } from "./rational.js";

const MOST_STANDINGS = 60_000;
const MOST_TOGETHER = 3;
const NEAR = 10;
const EXACT_UP_TO = 24;
const PAIRED = 12;

/** {before, after, swaps, changes, least, isProved, isFound}; maySwap (n, n), NaN where a post may not stand. */
export function findRemedy(trial, clearance, maySwap = null) {
  const before = trial.judge(clearance);
  const none = { before, after: before, swaps: [], changes: [] };
  if (before.isSteady) return { ...none, least: 0, isProved: true, isFound: true };
  for (const { pairs, tried } of maySwap ? swapsOf(clearance, maySwap) : []) {
    const after = trial.judge(tried);
    if (!after.isSteady) continue;
    const { marks } = trial.footing.frame;
    const swaps = pairs.map(([a, b]) => [marks[a], marks[b]]);
    return { before, after, swaps, changes: [], least: 0, isProved: true, isFound: true };
  }
  const { steps, least, isProved } = fewest(new Search(trial, clearance));
  if (steps === null) return { ...none, least, isProved, isFound: false };
  const { step } = trial.goal;
  const changes = trial.footing.frame.marks
    .map((mark, i) => ({ mark, by: step * steps[i] }))
    .filter((c) => c.by !== 0);
  const after = trial.judge(clearance.map((value, i) => value - step * steps[i]));
  return { before, after, swaps: [], changes, least, isProved, isFound: true };
}

function* swapsOf(clearance, maySwap) {
  const n = clearance.length;
  const singles = [];
  for (let a = 0; a < n; a++) {
    for (let b = 0; b < a; b++) {
      const tried = [...clearance];
      [tried[a], tried[b]] = [maySwap[a][b], maySwap[b][a]];
      const gain = sumOfSquares(clearance) - sumOfSquares(tried);
      if (gain > 1e-9) singles.push({ gain: roundTo(gain, 9), pair: [b, a], tried });
    }
  }
  singles.sort((p, q) => q.gain - p.gain || p.pair[0] - q.pair[0] || p.pair[1] - q.pair[1]);
  for (const { pair, tried } of singles) yield { pairs: [pair], tried };
  for (let k = 0; k < Math.min(singles.length, PAIRED); k++) {
    for (let j = k + 1; j < Math.min(singles.length, PAIRED); j++) {
      const [first, second] = [singles[k], singles[j]];
      if (first.pair.some((post) => second.pair.includes(post))) continue;
      const tried = [...first.tried];
      for (const post of second.pair) tried[post] = second.tried[post];
      yield { pairs: [first.pair, second.pair], tried };
    }
  }
}

/** Trying changes of posts on one floor. */
class Search {
  constructor(trial, clearance) {
    Object.assign(this, { trial, clearance, n: clearance.length, most: mostSteps(trial.goal) });
    this.positions = [...new Set([0, ...trial.worstPositions(clearance)])];
    this.budget = trial.stood + MOST_STANDINGS;
  }

  get isSpent() {
    return this.trial.stood > this.budget;
  }

  changed(steps) {
    return this.clearance.map((value, i) => value - this.trial.goal.step * steps[i]);
  }

  /** The cheapest change of these posts alone that makes the floor steady, every one tried; null where none does. */
  tryAll(posts) {
    const { trial } = this;
    const rest = trial.loads.map((_, k) => k).filter((k) => !this.positions.includes(k));
    for (const candidate of candidates(posts.length, this.most, trial.goal.prefer)) {
      if (this.isSpent) return null;
      const steps = new Array(this.n).fill(0);
      posts.forEach((post, k) => {
        steps[post] = candidate[k];
      });
      const clearance = this.changed(steps);
      const failing = this.positions.findIndex((position) => !trial.passes(clearance, position));
      if (failing >= 0) {
        // The position that refuses this one will refuse its neighbours too: ask it first.
        this.positions.unshift(...this.positions.splice(failing, 1));
        continue;
      }
      const late = rest.find((position) => !trial.passes(clearance, position));
      if (late === undefined) return steps;
      rest.splice(rest.indexOf(late), 1);
      this.positions.unshift(late);
    }
    return null;
  }
}

const disliked = (step, prefer) => (prefer === "shave" ? step > 0 : step < 0);

/** Every change of ``count`` posts in the order of what it costs a hand; kept, since the same sizes come again. */
const CANDIDATES = new Map();

function candidates(count, most, prefer) {
  const key = `${count} ${most} ${prefer}`;
  if (CANDIDATES.has(key)) return CANDIDATES.get(key);
  let rows = [[]];
  for (let k = 0; k < count; k++) {
    rows = rows.flatMap((row) => Array.from({ length: 2 * most + 1 }, (_, j) => [...row, j - most]));
  }
  const cost = (row) =>
    row.filter((step) => disliked(step, prefer)).length * 1000 + row.reduce((sum, step) => sum + Math.abs(step), 0);
  const sorted = rows
    .map((row) => ({ row, cost: cost(row) }))
    .sort((p, q) => p.cost - q.cost || lexical(p.row, q.row))
    .map((one) => one.row);
  CANDIDATES.set(key, sorted);
  return sorted;
}

function lexical(a, b) {
  const k = a.findIndex((value, i) => value !== b[i]);
  return k < 0 ? 0 : a[k] - b[k];
}

/** Changes of few posts found step by step, each the one that leaves least beyond the limits; null at an end. */
function improve(search) {
  const { trial, n } = search;
  let steps = new Array(n).fill(0);
  const watched = [...search.positions];
  for (let round = 0; round < 4 * n; round++) {
    const worse = trial.worstPositions(search.changed(steps));
    if (!worse.length) return spared(search, steps);
    for (const position of worse) if (!watched.includes(position)) watched.push(position);
    const moves = [];
    const posts = beside(trial, search.changed(steps), worse);
    for (const by of [1, -1]) {
      for (const post of posts) {
        const moved = steps.map((step, i) => (i === post ? step + by : step));
        if (Math.abs(moved[post]) <= search.most) moves.push(moved);
      }
    }
    const now = trial.excess(search.changed(steps), watched);
    const left = moves.map((moved) => trial.excess(search.changed(moved), watched));
    const best = firstGreatest(left.map((value) => -roundTo(value, 9)));
    if (left[best] >= now - 1e-9) return null;
    steps = moves[best];
  }
  return null;
}

/** The posts nearest in plan to the one that fails most; all of them on a floor that is searched to the end. */
function beside(trial, clearance, positions) {
  const { frame } = trial.footing;
  const n = frame.marks.length;
  if (n <= EXACT_UP_TO) return frame.marks.map((_, i) => i);
  const rests = positions.map((position) => trial.stand(clearance, position));
  const widest = frame.marks.map((_, i) => Math.max(...rests.map((rest) => rest.gap[i])));
  const pressed = frame.marks.map((_, i) => Math.max(...rests.map((rest) => rest.press[i])));
  const worst = firstGreatest(Math.max(...widest) > trial.goal.rock ? widest : pressed);
  const away = frame.marks.map((_, i) => Math.hypot(frame.x[i] - frame.x[worst], frame.y[i] - frame.y[worst]));
  const order = away.map((_, i) => i).sort((a, b) => away[a] - away[b] || a - b);
  return order.slice(0, NEAR).sort((a, b) => a - b);
}

const postsOf = (steps) => steps.flatMap((step, i) => (step ? [i] : []));

/** The same with every post left out that the others do without, and the rest changed as liked best. */
function spared(search, steps) {
  const kept = postsOf(steps);
  let best = kept.length <= MOST_TOGETHER ? (search.tryAll(kept) ?? steps) : steps;
  for (const post of kept) {
    const now = postsOf(best);
    const fewer = now.filter((other) => other !== post);
    if (fewer.length === now.length || !fewer.length || fewer.length > MOST_TOGETHER) continue;
    best = search.tryAll(fewer) ?? best;
  }
  return best;
}

/** The change of one post that a carpenter would make first, of all that make the floor steady. */
function likeliest(search) {
  const { goal } = search.trial;
  let best = null;
  for (let post = 0; post < search.n; post++) {
    const steps = search.tryAll([post]);
    if (steps === null) continue;
    const by = steps[post];
    const off = search.clearance[post] * (by > 0 ? 1 : -1);
    const rank = [disliked(by, goal.prefer) ? 1 : 0, Math.abs(by), -roundTo(off, 6), post];
    if (best === null || lexical(rank, best.rank) < 0) best = { rank, steps };
  }
  return best ? best.steps : null;
}

function* sets(n, size, from = 0, begun = []) {
  if (begun.length === size) {
    yield begun;
    return;
  }
  for (let post = from; post < n; post++) yield* sets(n, size, post + 1, [...begun, post]);
}

/** {steps, least, isProved}: a small set found step by step, then every smaller one tried. */
function fewest(search) {
  const best = improve(search);
  const one = likeliest(search);
  if (one !== null) return { steps: one, least: 1, isProved: true };
  let least = 2;
  search.budget = search.trial.stood + MOST_STANDINGS;
  const most = best === null ? search.n + 1 : postsOf(best).length;
  for (let size = 2; size < most; size++) {
    if (size > MOST_TOGETHER) return { steps: best, least, isProved: false };
    for (const posts of sets(search.n, size)) {
      const steps = search.tryAll(posts);
      if (steps !== null) return { steps, least: size, isProved: true };
      if (search.isSpent) return { steps: best, least, isProved: false };
    }
    least = size + 1;
  }
  return { steps: best, least: best === null ? search.n + 1 : most, isProved: true };
}
