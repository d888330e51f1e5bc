// What a floor must come to before it is called steady, and how far post lengths are from it; as setting.posts.goal.
import { dot } from "./linear.js";
import { firstGreatest, loadsOf, reachOf, standEverywhere } from "./walk.js";

/** A limit that is passed by less than this is kept [mm]. */
export const HAIR = 1e-4;
const SHARE_HAIR = 1e-6;

/** Goal {rock, step, most, share, level, prefer}: the greatest change in steps. */
export const mostSteps = (goal) => Math.max(1, Math.floor(goal.most / goal.step + 1e-9));

/** One floor, its goal and the person on it: what candidate lengths are tried on. */
export class Trial {
  constructor(footing, goal, loads, mostPress, lies) {
    Object.assign(this, { footing, goal, loads, mostPress, lies });
    this.stood = 0;
  }

  stand(clearance, position, guess = null) {
    this.stood += 1;
    return this.footing.stand(clearance, this.loads[position], guess);
  }

  /** How these clearances stand against the goal: {rock, hang, press, mostPress, off, isSteady}. */
  judge(clearance) {
    const rests = standEverywhere(this.footing, clearance, this.loads);
    const { high, low } = reachOf(rests, clearance.length);
    const heads = this.footing.headsOf(rests[0], this.loads[0]);
    return {
      rock: Math.max(...high.map((value, i) => value - low[i])),
      hang: Math.max(...high),
      press: Math.max(...rests.map((rest) => Math.max(...rest.press))),
      mostPress: this.mostPress,
      off: Math.max(...heads.map((head, i) => Math.abs(head + this.lies[i]))),
      isSteady: rests.every((rest) => this.keeps(rest)) && this.isLevel(rests[0]),
    };
  }

  /** Whether clearances keep the goal at one position. */
  passes(clearance, position) {
    const rest = this.stand(clearance, position);
    return this.keeps(rest) && (position !== 0 || this.isLevel(rest));
  }

  keeps(rest) {
    const { rock } = this.goal;
    const most = this.mostPress * (1 + SHARE_HAIR);
    for (let i = 0; i < rest.gap.length; i++) {
      if (!(rest.gap[i] <= rock + HAIR) || !(rest.press[i] <= most)) return false;
    }
    return true;
  }

  /** By how much each head passes the level asked for with nobody on the floor [mm]. */
  offLevel(rest) {
    const { level } = this.goal;
    if (level === null) return this.lies.map(() => 0);
    const heads = this.footing.headsOf(rest, this.loads[0]);
    return heads.map((head, i) => Math.max(Math.abs(head + this.lies[i]) - level, 0));
  }

  isLevel(rest) {
    return this.goal.level === null || this.offLevel(rest).every((off) => off <= HAIR);
  }

  /** The positions that show best where these clearances fail; none where they are steady. */
  worstPositions(clearance) {
    const rests = standEverywhere(this.footing, clearance, this.loads);
    const { high, highAt } = reachOf(rests, clearance.length);
    const found = [];
    if (Math.max(...high) > this.goal.rock + HAIR) {
      const order = high.map((_, i) => i).sort((a, b) => high[b] - high[a] || a - b);
      for (const post of order.slice(0, 2)) if (high[post] > this.goal.rock + HAIR) found.push(highAt[post]);
    }
    const presses = rests.map((rest) => Math.max(...rest.press));
    if (Math.max(...presses) > this.mostPress * (1 + SHARE_HAIR)) found.push(firstGreatest(presses));
    if (!this.isLevel(rests[0])) found.push(0);
    return [...new Set(found)];
  }

  /** How much is wrong with clearances at some positions: squares of what passes the limits. */
  excess(clearance, positions) {
    let out = 0;
    for (const position of positions) {
      const rest = this.stand(clearance, position);
      for (const gap of rest.gap) out += Math.max(gap - this.goal.rock, 0) ** 2;
      if (Number.isFinite(this.mostPress)) {
        for (const press of rest.press) out += Math.max(press / this.mostPress - 1, 0) ** 2;
      }
      if (position === 0) for (const off of this.offLevel(rest)) out += off ** 2;
    }
    return out;
  }
}

/** The trial of a floor; null where it would tip even with nobody on it. */
export function makeTrial(footing, goal, { person, lies }) {
  const { frame } = footing;
  const every = loadsOf(frame, person);
  const ideal = standEverywhere(
    footing,
    frame.marks.map(() => 0),
    every,
  );
  if (!ideal[0].isHeld) return null;
  let most = Infinity;
  if (goal.share !== null) {
    most = goal.share * Math.max(...ideal.map((rest) => (rest.isHeld ? Math.max(...rest.press) : 0)));
  }
  const loads = every.filter((_, k) => ideal[k].isHeld);
  return new Trial(footing, goal, loads, most, lies ?? frame.marks.map(() => 0));
}

export const sumOfSquares = (values) => dot(values, values);
