// Where corners lie when only distances between them were measured; as evenfoot.solvers.network.
import { fitLinear, SiteError } from "./fit.js";
import { rankOf, sizesOf } from "./linear.js";

const ROUNDS = 200;
const SINGULAR = 1e-9;

export const lengthOf = (points, [a, b]) => Math.hypot(points[b][0] - points[a][0], points[b][1] - points[a][1]);

function slope(points, [a, b]) {
  const way = [points[b][0] - points[a][0], points[b][1] - points[a][1]];
  const size = Math.max(Math.hypot(...way), SINGULAR);
  const out = new Array(2 * points.length).fill(0);
  for (const axis of [0, 1]) {
    out[2 * a + axis] = -way[axis] / size;
    out[2 * b + axis] = way[axis] / size;
  }
  return out;
}

const less = (a, b) => a.map((value, k) => value - b[k]);

/** Points turned so that the first is the origin and the second lies along x. */
export function turned(start) {
  const [x, y] = less(start[1], start[0]);
  const reach = Math.hypot(x, y);
  if (reach < SINGULAR) throw new SiteError("fit-underdetermined", "0");
  const [c, s] = [x / reach, y / reach];
  return start.map((point) => {
    const [u, v] = less(point, start[0]);
    return [u * c + v * s, -u * s + v * c];
  });
}

/** One weighing of spans {pair, value, sigma} and ties {first, second, value, sigma}. */
class Model {
  constructor(spans, ties, places, scaleSigma) {
    Object.assign(this, { spans, ties, places, scaleSigma });
    this.sigmas = [...spans, ...ties].map((one) => one.sigma);
    if (scaleSigma > 0) this.sigmas.push(scaleSigma);
  }

  misfit(points, scale) {
    const out = this.spans.map((s) => s.value - (1 + scale) * lengthOf(points, s.pair));
    for (const t of this.ties) out.push(t.value - lengthOf(points, t.first) + lengthOf(points, t.second));
    if (this.scaleSigma > 0) out.push(-scale);
    return out;
  }

  cost(points, scale) {
    return this.misfit(points, scale).reduce((sum, value, k) => sum + (value / this.sigmas[k]) ** 2, 0);
  }

  step(points, scale) {
    const full = this.spans.map((s) => slope(points, s.pair).map((value) => (1 + scale) * value));
    for (const t of this.ties) full.push(less(slope(points, t.first), slope(points, t.second)));
    const design = full.map((row) => this.places.map((place) => row[place]));
    if (this.scaleSigma > 0) {
      design.forEach((row, k) => row.push(k < this.spans.length ? lengthOf(points, this.spans[k].pair) : 0));
      design.push([...this.places.map(() => 0), 1]);
    }
    return fitLinear(design, this.misfit(points, scale), this.sigmas);
  }

  moved(points, scale, by) {
    const flat = points.flat();
    this.places.forEach((place, k) => {
      flat[place] += by[k];
    });
    return [pairs(flat), this.scaleSigma > 0 ? scale + by[by.length - 1] : scale];
  }
}

const pairs = (flat) => Array.from({ length: flat.length / 2 }, (_, k) => [flat[2 * k], flat[2 * k + 1]]);
const greatest = (values) => values.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

/** Points that agree best with spans and ties: {points, scale, fit, sigmaOf}; Gauss and Newton, halved steps. */
export function fitDistances(start, spans, { ties = [], scaleSigma = 0 } = {}) {
  let points = turned(start);
  let scale = 0;
  const places = points.flat().flatMap((_, place) => (place < 4 ? [] : [place]));
  places.unshift(2);
  const model = new Model(spans, ties, places, scaleSigma);
  for (let round = 0; round < ROUNDS; round++) {
    const fit = model.step(points, scale);
    const now = model.cost(points, scale);
    const reach = greatest(fit.coefficients);
    let [share, moved, other] = [1, points, scale];
    while (share > 1e-6) {
      [moved, other] = model.moved(
        points,
        scale,
        fit.coefficients.map((value) => share * value),
      );
      if (model.cost(moved, other) <= now * (1 + 1e-12)) break;
      share /= 2;
    }
    [points, scale] = [moved, other];
    if (share * reach < 1e-11 * Math.max(1, greatest(points.flat())) || share <= 1e-6) break;
  }
  const fit = model.step(points, scale);
  return { points, scale, fit, sigmaOf: (figure) => sigmaOf(figure, points, fit, places) };
}

/** The standard deviation of a figure of the points, by its slope at them. */
function sigmaOf(figure, points, fit, places) {
  const flat = points.flat();
  const step = 1e-6 * Math.max(1, greatest(flat));
  const rise = fit.coefficients.map(() => 0);
  places.forEach((place, index) => {
    const [ahead, behind] = [[...flat], [...flat]];
    ahead[place] += step;
    behind[place] -= step;
    rise[index] = (figure(pairs(ahead)) - figure(pairs(behind))) / (2 * step);
  });
  let variance = 0;
  for (let i = 0; i < rise.length; i++) {
    for (let k = 0; k < rise.length; k++) variance += rise[i] * fit.covariance[i][k] * rise[k];
  }
  return Math.sqrt(Math.max(0, variance));
}

const RANK = 1e-6;

/** The fewest distances that must be measured beside ``measured`` so that every point is fixed. */
export function missingDistances(start, measured, ties = []) {
  const count = start.length;
  const rows = measured.map((pair) => slope(start, pair));
  for (const t of ties) rows.push(less(slope(start, t.first), slope(start, t.second)));
  const found = [];
  while (rankOf(rows, RANK) < 2 * count - 3) {
    const rank = rankOf(rows, RANK);
    let best = null;
    for (let a = 0; a < count; a++) {
      for (let b = a + 1; b < count; b++) {
        const more = [...rows, slope(start, [a, b])];
        if (rankOf(more, RANK) <= rank) continue;
        const stiff = Number(Math.min(...sizesOf(more).filter((size) => size > RANK)).toFixed(9));
        if (best === null || stiff > best.stiff) best = { stiff, pair: [a, b] };
      }
    }
    rows.push(slope(start, best.pair));
    found.push(best.pair);
  }
  return found;
}
