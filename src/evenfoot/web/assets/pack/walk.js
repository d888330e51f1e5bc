// How far each foot moves while a person walks over the floor: rock, tipping, sudden jumps; as setting.posts.walk.
import { quantile } from "./linear.js";
import { roundTo } from "./rational.js";

/** Standard acceleration of gravity [m/s2]. Source: 3rd CGPM (1901). */
export const GRAVITY = 9.80665;
const JUMP = 0.3;
const HALVINGS = 12;
const PAIRS = 24;
const PLACES = 32;

/** Head loads of the empty floor (first) and of a person [N] on each place. */
export function loadsOf(frame, person) {
  return [frame.own, ...frame.walkedLoad.map((row) => frame.own.map((own, i) => own + person * row[i]))];
}

/** How the floor stands empty and with the person on each place in turn. */
export function standEverywhere(footing, clearance, loads) {
  let guess = null;
  return loads.map((load) => {
    const rest = footing.stand(clearance, load, guess);
    if (rest.isHeld) guess = rest.isTouching;
    return rest;
  });
}

/** For each foot its widest and its least gap over the cases that hold, and where. */
export function reachOf(rests, count) {
  const high = new Array(count).fill(-Infinity);
  const low = new Array(count).fill(Infinity);
  const [highAt, lowAt] = [new Array(count).fill(0), new Array(count).fill(0)];
  rests.forEach((rest, at) => {
    if (!rest.isHeld) return;
    for (let i = 0; i < count; i++) {
      if (rest.gap[i] > high[i]) [high[i], highAt[i]] = [rest.gap[i], at];
      if (rest.gap[i] < low[i]) [low[i], lowAt[i]] = [rest.gap[i], at];
    }
  });
  return { high, low, highAt, lowAt };
}

export const firstGreatest = (values) => values.reduce((best, value, k) => (value > values[best] ? k : best), 0);

/** What a person [N] finds on a floor with these clearances [mm]; see evenfoot.setting.posts.walk. */
export function walkOver(footing, clearance, person) {
  const { frame } = footing;
  const rests = standEverywhere(footing, clearance, loadsOf(frame, person));
  const places = [null, ...frame.walkedAt];
  const tips = places.filter((place, k) => place && !rests[k].isHeld);
  if (!rests.some((rest) => rest.isHeld)) return fallen(frame);
  const { high, low, highAt, lowAt } = reachOf(rests, frame.marks.length);
  const travel = high.map((value, i) => value - low[i]);
  const worst = firstGreatest(travel.map((value) => roundTo(value, 9)));
  let mostPress = -Infinity;
  for (const rest of rests) if (rest.isHeld) mostPress = Math.max(mostPress, ...rest.press);
  return {
    marks: frame.marks,
    travel,
    hang: Math.max(...high),
    rock: travel[worst],
    mark: frame.marks[worst],
    highest: places[highAt[worst]],
    lowest: places[lowAt[worst]],
    tips,
    standsEmpty: rests[0].isHeld,
    jump: findJump(footing, clearance, rests, person),
    mostPress,
    places: frame.walkedAt.length,
    empty: rests[0],
  };
}

function fallen(frame) {
  const none = { hang: 0, rock: 0, mark: frame.marks[0], highest: null, lowest: null, jump: null, mostPress: 0 };
  const travel = frame.marks.map(() => 0);
  const places = frame.walkedAt.length;
  return { marks: frame.marks, travel, ...none, tips: frame.walkedAt, standsEmpty: false, places, empty: null };
}

const farthest = (a, b) => a.reduce((most, value, i) => Math.max(most, Math.abs(value - b[i])), 0);

function findJump(footing, clearance, rests, person) {
  const { frame } = footing;
  const moved = [];
  for (const [a, b] of frame.pairs) {
    const [near, far] = [rests[a + 1], rests[b + 1]];
    if (near.isHeld && far.isHeld) moved.push([farthest(near.gap, far.gap), a, b]);
  }
  moved.sort((p, q) => q[0] - p[0] || q[1] - p[1] || q[2] - p[2]);
  let best = null;
  for (const [way, a, b] of moved.slice(0, PAIRS)) {
    if (way > JUMP)
      best = stepped(footing, { clearance, person, a, b, near: rests[a + 1], far: rests[b + 1] }, best);
  }
  return best;
}

/** The fall that is left of one step after many halvings, if it is greater than the best so far. */
function stepped(footing, { clearance, person, a, b, near, far }, best) {
  const { frame } = footing;
  let [low, high, gapLow, gapHigh] = [0, 1, near.gap, far.gap];
  for (let k = 0; k < HALVINGS; k++) {
    const share = (low + high) / 2;
    const load = frame.own.map((own, i) => {
      const [from, to] = [frame.walkedLoad[a][i], frame.walkedLoad[b][i]];
      return own + person * (from + share * (to - from));
    });
    const middle = footing.stand(clearance, load).gap;
    if (farthest(middle, gapLow) >= farthest(gapHigh, middle)) [high, gapHigh] = [share, middle];
    else [low, gapLow] = [share, middle];
  }
  const falls = [...gapHigh].map((value, i) => Math.abs(value - gapLow[i]));
  const post = firstGreatest(falls);
  if (!(falls[post] > JUMP) || (best && falls[post] <= best.fall)) return best;
  const [from, to] = [frame.walkedAt[a], frame.walkedAt[b]];
  const at = from.map((value, axis) => value + low * (to[axis] - value));
  return { mark: frame.marks[post], fall: falls[post], at };
}

/** Up to ``count`` places spread as far from each other as can be, the outermost first. */
function outermost(at, count) {
  if (at.length <= count) return at.map((_, k) => k);
  const mean = [0, 1].map((axis) => at.reduce((sum, place) => sum + place[axis], 0) / at.length);
  const from = (spot) => at.map((place) => Math.hypot(place[0] - spot[0], place[1] - spot[1]));
  const tidy = (values) => values.map((value) => roundTo(value, 6));
  const chosen = [firstGreatest(tidy(from(mean)))];
  let nearest = from(at[chosen[0]]);
  while (chosen.length < count) {
    chosen.push(firstGreatest(tidy(nearest)));
    const away = from(at[chosen[chosen.length - 1]]);
    nearest = nearest.map((value, k) => Math.min(value, away[k]));
  }
  return chosen;
}

/** The rock of a floor walked at its outermost places [mm]. */
function rockOf(footing, clearance, loads) {
  const count = clearance.length;
  const { high, low } = reachOf(standEverywhere(footing, clearance, loads), count);
  return Math.max(...high.map((value, i) => value - low[i]));
}

/** How sure the rock is [+- mm, 19 times in 20]: floors drawn by the normals (draws, n) that the pack brings. */
export function rockSure(footing, known, walked, { person, normals }) {
  if (!walked.standsEmpty) return 0;
  const { frame } = footing;
  const all = loadsOf(frame, person);
  const loads = [all[0], ...outermost(frame.walkedAt, PLACES).map((k) => all[k + 1])];
  const rocks = normals.map((row) => {
    const clearance = known.clearance.map((value, i) => value + known.sigma[i] * row[i]);
    return rockOf(footing, clearance, loads);
  });
  const [low, high] = [quantile(rocks, 0.025), quantile(rocks, 0.975)];
  return Math.max(walked.rock - low, high - walked.rock, 0);
}
