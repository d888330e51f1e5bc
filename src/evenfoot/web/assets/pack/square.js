// Is the frame square, what shape is it if not, which corner goes which way how far; as evenfoot.setting.square.
import { chiSquaredLimit, NINETEEN_IN_TWENTY, SiteError } from "./fit.js";
import { fitDistances, lengthOf, missingDistances, turned } from "./network.js";
import { likelySlip } from "./slips.js";

const CUT_ALIKE = 3;
const CHANCE = 0.001;
const CLEARLY = 8;

const reach = (pair) => (points) => lengthOf(points, pair);
const lean = (points) => (points[3][0] - points[0][0] + points[2][0] - points[1][0]) / 2;
const place = (index, axis) => (points) => points[index][axis];

function difference(side) {
  const [own, other] = [side % 4, (side + 2) % 4];
  const [a, b] = [reach([own, (own + 1) % 4]), reach([other, (other + 1) % 4])];
  return (points) => a(points) - b(points);
}

function angle(index) {
  return (points) => {
    const count = points.length;
    const to = (k) => [points[k][0] - points[index][0], points[k][1] - points[index][1]];
    const [[ax, ay], [bx, by]] = [to((index + 1) % count), to((index + count - 1) % count)];
    const turn = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
    return turn < 0 ? turn + 2 * Math.PI : turn;
  };
}

const sidesOf = (wanted) => wanted.corners.map((_, k) => [k, (k + 1) % wanted.corners.length]);
const readingOf = (tape) => tape.reading / NINETEEN_IN_TWENTY;
const sigmaOfRead = (d, tape) => (d.accuracy == null ? readingOf(tape) : d.accuracy / NINETEEN_IN_TWENTY);

/**
 * What shape distances [{pair, value, accuracy}] give a frame {corners, isSizeKnown, within, same}, with a tape
 * {reading, scale}. Lengths in mm; ``sure`` is plus or minus, 19 times in 20.
 */
export function squareUp(wanted, distances, tape) {
  const start = wanted.corners;
  for (const { pair, value } of distances) {
    const isFit = Math.min(...pair) >= 0 && Math.max(...pair) < start.length && pair[0] !== pair[1] && value > 0;
    if (!isFit) throw new SiteError("distance-unfit", `${pair[0] + 1}-${pair[1] + 1}: ${value} mm`);
  }
  const spans = distances.map((d) => ({ pair: d.pair, value: d.value, sigma: sigmaOfRead(d, tape) }));
  const alike = readingOf(tape) * Math.SQRT2;
  const ties = (wanted.same ?? []).map(([first, second]) => ({ first, second, value: 0, sigma: alike }));
  const missing = missingDistances(
    start,
    spans.map((s) => s.pair),
    ties,
  );
  if (missing.length) return open(wanted, missing);
  const scaleSigma = tape.scale / NINETEEN_IN_TWENTY;
  const fitted = fitDistances(start, spans, { ties, scaleSigma });
  const suspects = suspectsAmong(fitted, spans, { start, likely: [...ties, ...likelyOf(wanted)], scaleSigma });
  const figure = new Figure(fitted, wanted);
  const shape = figure.shape();
  return {
    shape,
    sides: figure.sides(),
    diagonals: figure.diagonals(),
    corners: figure.corners(),
    lean: figure.lean,
    leanSure: start.length === 4 ? figure.sure(lean) : 0,
    pushes: shape === "square" ? [] : figure.pushes(),
    suspects,
    missing: [],
    spare: fitted.fit.freedom,
    within: wanted.within,
  };
}

function open(wanted, missing) {
  const none = { sides: [], diagonals: [], corners: [], pushes: [], suspects: [] };
  return { shape: "open", ...none, lean: 0, leanSure: 0, missing, spare: 0, within: wanted.within };
}

function likelyOf(wanted) {
  if (wanted.corners.length !== 4) return [];
  const sides = sidesOf(wanted);
  const sigma = CUT_ALIKE / NINETEEN_IN_TWENTY;
  return [0, 1].map((k) => ({ first: sides[k], second: sides[k + 2], value: 0, sigma }));
}

function suspectsAmong(fitted, spans, { start, likely, scaleSigma }) {
  const { freedom, misfitSquares } = fitted.fit;
  if (freedom < 1 || misfitSquares <= chiSquaredLimit(CHANCE, freedom)) return [];
  const found = [];
  spans.forEach((span, index) => {
    const others = spans.filter((_, k) => k !== index);
    let fit;
    try {
      fit = fitDistances(start, others, { ties: likely, scaleSigma });
    } catch (error) {
      if (error instanceof SiteError) return;
      throw error;
    }
    found.push({ misfit: fit.fit.misfitSquares, suspect: suspectOf(span, fit) });
  });
  found.sort((a, b) => a.misfit - b.misfit);
  const best = found.filter((one) => one.misfit <= found[0].misfit + CLEARLY).map((one) => one.suspect);
  return [...best.filter((one) => one.slip), ...best.filter((one) => !one.slip)];
}

function suspectOf(span, fit) {
  const expected = (1 + fit.scale) * reach(span.pair)(fit.points);
  const sure = NINETEEN_IN_TWENTY * Math.hypot(fit.sigmaOf(reach(span.pair)), span.sigma);
  const slip = likelySlip(span.value, expected, 1.5 * sure);
  return { pair: span.pair, found: span.value, expected, sure, slip };
}

/** A fitted frame, read against the one that is wanted. */
class Figure {
  constructor(fitted, wanted) {
    Object.assign(this, { fitted, wanted, points: fitted.points, isBox: wanted.corners.length === 4 });
    this.lean = this.isBox ? lean(fitted.points) : 0;
  }

  sure(figure) {
    return NINETEEN_IN_TWENTY * this.fitted.sigmaOf(figure);
  }

  targets() {
    const sides = sidesOf(this.wanted);
    if (this.wanted.isSizeKnown || !this.isBox) return sides.map((pair) => reach(pair)(this.wanted.corners));
    const lengths = sides.map((pair) => reach(pair)(this.points));
    return lengths.map((own, side) => {
      const other = lengths[(side + 2) % 4];
      const slack = Math.max(this.wanted.within, this.sure(difference(side)));
      return Math.abs(own - other) <= slack ? (own + other) / 2 : Math.min(own, other);
    });
  }

  shape() {
    const { within, isSizeKnown } = this.wanted;
    if (!this.isBox) {
      const worst = Math.max(0, ...this.pushes().map((p) => Math.hypot(p.dx, p.dy)));
      return worst <= within ? "square" : "crooked";
    }
    const unequal = [0, 1].filter((side) => Math.abs(difference(side)(this.points)) > within).length;
    const isOff = isSizeKnown && this.sides().some((s) => Math.abs(s.excess) > within);
    const leans = Math.abs(this.lean) > within;
    if (!unequal) return leans ? "leaning" : isOff ? "crooked" : "square";
    return !leans && unequal === 1 ? "trapezoid" : "crooked";
  }

  sides() {
    const targets = this.targets();
    const isAgainst = !this.wanted.isSizeKnown && this.isBox;
    return sidesOf(this.wanted).map((pair, k) => {
      const length = reach(pair)(this.points);
      const sure = this.sure(isAgainst ? difference(k) : reach(pair));
      return { pair, length, target: targets[k], excess: length - targets[k], sure };
    });
  }

  diagonals() {
    return this.aims().map(([pair, target]) => {
      const figure = reach(pair);
      return { pair, length: figure(this.points), target, sure: this.sure(figure) };
    });
  }

  aims() {
    if (this.isBox) {
      const aim = this.boxDiagonal();
      return [
        [[0, 2], aim],
        [[1, 3], aim],
      ];
    }
    const { corners } = this.wanted;
    const sides = new Set(sidesOf(this.wanted).map((pair) => [...pair].sort().join()));
    const out = [];
    for (let a = 0; a < corners.length; a++) {
      for (let b = a + 1; b < corners.length; b++) {
        if (!sides.has([a, b].join())) out.push([[a, b], reach([a, b])(corners)]);
      }
    }
    return out;
  }

  boxDiagonal() {
    const t = this.targets();
    return Math.hypot(t[0], t[1]);
  }

  corners() {
    return this.points.map((at, index) => {
      const right = this.isBox ? Math.PI / 2 : angle(index)(this.wanted.corners);
      return { index, at, angleError: angle(index)(this.points) - right, angleSure: this.sure(angle(index)) };
    });
  }

  pushes() {
    if (this.isBox) {
      if (!this.lean) return [];
      const sure = this.sure(lean);
      return [2, 3].map((corner) => ({ corner, dx: -this.lean, dy: 0, sure }));
    }
    const placed = turned(this.wanted.corners);
    const out = this.points.map((now, corner) => {
      const [dx, dy] = [placed[corner][0] - now[0], placed[corner][1] - now[1]];
      return { corner, dx, dy, sure: Math.max(this.sure(place(corner, 0)), this.sure(place(corner, 1))) };
    });
    return out.filter((push) => Math.hypot(push.dx, push.dy) > 1e-9);
  }
}

/** Whether the shape is right within the tolerance by readings that agree; proved, even where they err the most. */
export const isSquare = (r) => r.shape === "square" && !r.suspects.length;
export const isProved = (r) =>
  isSquare(r) &&
  Math.abs(r.lean) + r.leanSure <= r.within &&
  Math.max(0, ...r.sides.map((s) => s.sure)) <= r.within;
