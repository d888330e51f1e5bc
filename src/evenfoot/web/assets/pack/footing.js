// On which feet the floor stands, what each carries, how far each hangs; as evenfoot.setting.posts.
import { SiteError } from "./fit.js";
import { Settler } from "./contact.js";
import { applyLeft, dot, leastSquares, rankOf, solve, zeros } from "./linear.js";

const LEAST = 1e-6;

/**
 * One frame over its feet. frame: {marks, x, y, give (n, n) [mm/N], shapes (n, m), seat (n) [mm/N], own (n) [N],
 * walkedAt (k, 2) [mm], walkedLoad (k, n), pairs [[a, b]] neighbouring places}; anchored: marks that may pull.
 */
export class Footing {
  constructor(frame, anchored = []) {
    this.frame = frame;
    this.isAnchored = frame.marks.map((mark) => anchored.includes(mark));
    const flexibility = frame.give.map((row, i) =>
      row.map((value, k) => (i === k ? value + frame.seat[i] : value)),
    );
    this.settler = new Settler(flexibility, frame.shapes, this.isAnchored);
    this.known = new WeakMap();
  }

  /** What a load is without its feet: the sag of every head, and its sums along the free motions. */
  felt(load) {
    const known = this.known.get(load);
    if (known) return known;
    const felt = { sag: applyLeft(load, this.frame.give), total: applyLeft(load, this.frame.shapes) };
    this.known.set(load, felt);
    return felt;
  }

  /** How the floor stands on feet with these clearances [mm] under these head loads [N]. */
  stand(clearance, load, guess = null) {
    const { sag, total } = this.felt(load);
    const found = this.settler.settle(
      clearance.map((value, i) => value - sag[i]),
      total,
      guess,
    );
    return found;
  }

  /** How high each head has come above where it lay level and unbent [mm]. */
  headsOf(found, load) {
    const { sag } = this.felt(load);
    const { give, shapes } = this.frame;
    return give.map((row, i) => dot(row, [...found.press]) - sag[i] + dot(shapes[i], [...found.modes]));
  }

  /** How high every head lies [mm] by own weight with some heads held; null where the frame would fall from those. */
  headsHeldAt(isHeld) {
    const { give, shapes, seat, own } = this.frame;
    const at = isHeld.flatMap((held, i) => (held ? [i] : []));
    const held = at.map((i) => shapes[i]);
    const m = shapes[0].length;
    if (at.length < m || rankOf(held, LEAST) < m) return null;
    const n = at.length;
    const matrix = zeros(n + m, n + m);
    at.forEach((i, row) => {
      at.forEach((k, place) => {
        matrix[row][place] = give[i][k] + (i === k ? seat[i] : 0);
      });
      shapes[i].forEach((value, k) => {
        matrix[row][n + k] = matrix[n + k][row] = value;
      });
    });
    const { sag, total } = this.felt(own);
    const found = solve(matrix, [...at.map((i) => sag[i]), ...total]);
    return give.map((_, i) => {
      const pressed = at.reduce((sum, k, place) => sum + found[place] * give[k][i], 0);
      return pressed - sag[i] + dot(shapes[i], found.slice(n));
    });
  }
}

/** How high each head lies [mm] with the frame level on jacks beside posts; a set of marks. */
function headsOnJacks(footing, jacks) {
  const heads = footing.headsHeldAt(footing.frame.marks.map((mark) => jacks.includes(mark)));
  if (heads === null) throw new SiteError("jacks-do-not-hold", [...jacks].sort().join(", "));
  return heads;
}

/**
 * What each post must be [{...base, need, takenOut}] for a level, unbent frame [mm]. bases: {mark, length, sigma,
 * sigmaGap, isMeasured}; levels: by mark, how high above its place the head lay; jacks: by mark, which stood then.
 */
export function needsOf(footing, bases, { levels, jacks }) {
  return bases.map((base, place) => {
    let off = 0;
    if (base.isMeasured && levels.has(base.mark)) off = levels.get(base.mark);
    else if (base.isMeasured && jacks.has(base.mark)) off = headsOnJacks(footing, jacks.get(base.mark))[place];
    return { ...base, need: base.length - off, takenOut: -off };
  });
}

/**
 * How far each foot is clear: {clearance, sigma, bases, lengths}. lengths: as cut, by mark; seen: gaps under feet, by
 * mark, 0 for one that stands.
 */
export function clearOf(footing, wanted, { lengths, seen, feeler }) {
  const cut = wanted.map((w) => lengths.get(w.mark) ?? NaN);
  if (seen.size) return seenClear(footing, cut, seen, feeler);
  return {
    clearance: wanted.map((w, i) => w.need - (Number.isNaN(cut[i]) ? w.need : cut[i])),
    sigma: wanted.map((w) => w.sigmaGap),
    bases: cut.map((length) => (Number.isNaN(length) ? "asked" : "cut")),
    lengths: cut,
  };
}

function seenClear(footing, cut, seen, feeler) {
  const { marks } = footing.frame;
  const gaps = marks.map((mark) => seen.get(mark) ?? 0);
  const stands = gaps.map((gap) => gap <= 0);
  const heads = footing.headsHeldAt(stands);
  if (heads === null) throw new SiteError("feet-do-not-hold", marks.filter((_, i) => stands[i]).join(", "));
  return {
    clearance: gaps.map((gap, i) => (stands[i] ? 0 : gap - heads[i])),
    sigma: gaps.map(() => feeler),
    bases: gaps.map(() => "seen"),
    lengths: cut,
  };
}

export const isEnough = (known) => known.bases.every((basis) => basis !== "asked");

/** The clearance that post j would have at the place of post i [mm]; null without all lengths. */
export function swappedOf(known) {
  if (known.lengths.some(Number.isNaN)) return null;
  return known.clearance.map((clear, i) => known.lengths.map((length) => clear + known.lengths[i] - length));
}

/** How high the level that clearances are counted from lies above its place [mm]; null by too few heads read. */
export function liesAbove(footing, known, levels) {
  const { frame } = footing;
  const read = frame.marks.flatMap((mark, i) => (levels.has(mark) ? [i] : []));
  const shapes = read.map((i) => frame.shapes[i]);
  const m = frame.shapes[0].length;
  if (read.length < m || rankOf(shapes, 1e-6) < m) return null;
  const rest = footing.stand(known.clearance, frame.own);
  if (!rest.isHeld) return null;
  const heads = footing.headsOf(rest, frame.own);
  const over = read.map((i) => levels.get(frame.marks[i]) - heads[i]);
  const part = leastSquares(shapes, over);
  return frame.shapes.map((row) => dot(row, part));
}
