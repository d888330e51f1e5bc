// How high marks of the frame lie against each other, and how the frame lies as a whole; as evenfoot.setting.level.
import { fitLinear, NINETEEN_IN_TWENTY, SiteError } from "./fit.js";
import { apply, dot, multiply, pseudoInverse, sizesOf, transpose } from "./linear.js";

const unique = (values) => [...new Set(values)];

/** The readings with each allowed closing difference shared out, and what closed how. */
function closed(sights, instrument) {
  const [out, closures] = [[], []];
  for (const stand of unique(sights.map((s) => s.stand))) {
    let own = sights.filter((s) => s.stand === stand);
    const last = own[own.length - 1];
    if (own.length > 2 && last.mark === own[0].mark) {
      const error = last.value - own[0].value;
      const allowed = Math.SQRT2 * instrument.reading;
      const isClosed = Math.abs(error) <= allowed;
      closures.push({ stand, mark: own[0].mark, error, allowed, isClosed });
      if (isClosed) own = own.map((s, k) => ({ ...s, value: s.value - (error / (own.length - 1)) * k }));
    }
    out.push(...own);
  }
  return [out, closures];
}

function areTied(sights) {
  let linked = new Set([sights[0].stand]);
  for (;;) {
    const marks = new Set(sights.filter((s) => linked.has(s.stand)).map((s) => s.mark));
    const more = new Set(sights.filter((s) => marks.has(s.mark)).map((s) => s.stand));
    if ([...more].every((stand) => linked.has(stand))) return sights.every((s) => linked.has(s.stand));
    linked = new Set([...linked, ...more]);
  }
}

/**
 * Heights of the marks over their mean by all sights [{stand, mark, value, isDown, away, accuracy}] together;
 * instrument {reading, tilt}. Returns {marks, heights, covariance, tilt, tiltSure, closures}.
 */
export function survey(read, instrument) {
  const [sights, closures] = closed(read, instrument);
  const marks = unique(sights.map((s) => s.mark));
  const stands = unique(sights.map((s) => s.stand));
  if (marks.length < 2 || !areTied(sights)) throw new SiteError("sights-too-few", marks.join(", "));
  const [n, m] = [marks.length, stands.length - 1];
  const [design, values, sigmas] = [[], [], []];
  for (const s of sights) {
    const row = new Array(n + m + 1).fill(0);
    row[marks.indexOf(s.mark)] = 1;
    if (s.stand !== stands[0]) row[n + stands.indexOf(s.stand) - 1] = -1;
    row[n + m] = s.isDown ? -(s.away ?? 0) : 0;
    design.push(row);
    values.push(s.isDown ? -s.value : s.value);
    sigmas.push((s.accuracy ?? instrument.reading) / NINETEEN_IN_TWENTY);
  }
  design.push([...new Array(n + m).fill(0), 1]);
  sigmas.push(Math.max(instrument.tilt, 1e-9) / NINETEEN_IN_TWENTY);
  const fit = fitLinear(design, [...values, 0], sigmas);
  const overMean = marks.map((_, i) => marks.map((__, k) => (i === k ? 1 : 0) - 1 / n));
  const covariance = fit.covariance.slice(0, n).map((row) => row.slice(0, n));
  return {
    marks,
    heights: apply(overMean, fit.coefficients.slice(0, n)),
    covariance: multiply(multiply(overMean, covariance), overMean),
    tilt: fit.coefficients[n + m],
    tiltSure: NINETEEN_IN_TWENTY * Math.sqrt(fit.covariance[n + m][n + m]),
    closures,
  };
}

/** How the frame lies by a survey: {marks, tilt, twist, within, feet, spread, sure}; spots by mark. */
export function lieOf(found, spots, within) {
  const { marks } = found;
  const feet = marks.flatMap((mark, i) => (spots.get(mark).isFoot ? [i] : []));
  if (!feet.length) throw new SiteError("level-no-foot", marks.join(", "));
  const shift = marks.map((_, i) =>
    marks.map((__, k) => (i === k ? 1 : 0) - (feet.includes(k) ? 1 / feet.length : 0)),
  );
  const off = apply(
    shift,
    found.heights.map((height, i) => height - spots.get(marks[i]).planned),
  );
  const covariance = multiply(multiply(shift, found.covariance), transpose(shift));
  const part = feet.map((i) => feet.map((k) => covariance[i][k]));
  const [tilt, twist] = tiltOf(
    feet.map((i) => spots.get(marks[i]).at),
    feet.map((i) => off[i]),
    part,
  );
  const lies = marks.map((mark, i) => ({
    mark,
    off: off[i],
    sure: NINETEEN_IN_TWENTY * Math.sqrt(Math.max(0, covariance[i][i])),
    isFoot: spots.get(mark).isFoot,
  }));
  const own = lies.filter((one) => one.isFoot);
  const spread = Math.max(...own.map((one) => one.off)) - Math.min(...own.map((one) => one.off));
  const sure = Math.max(...own.map((one) => one.sure));
  return { marks: lies, tilt, twist, within, feet: own, spread, sure, isLevel: spread <= 2 * within + 1e-9 };
}

function tiltOf(at, off, covariance) {
  if (at.length < 3) return [null, 0];
  const mean = [0, 1].map((axis) => at.reduce((sum, place) => sum + place[axis], 0) / at.length);
  const middle = at.map((place) => place.map((value, axis) => value - mean[axis]));
  const reach = Math.max(1, ...middle.flat().map(Math.abs));
  if (sizesOf(middle)[1] < 1e-6 * reach) return [null, 0];
  const solve = pseudoInverse(middle);
  const slope = apply(solve, off);
  const spread = multiply(multiply(solve, covariance), transpose(solve));
  const [rightSure, awaySure] = [0, 1].map((k) => NINETEEN_IN_TWENTY * Math.sqrt(Math.max(0, spread[k][k])));
  const left = off.map((value, i) => value - dot(middle[i], slope));
  const even = left.reduce((sum, value) => sum + value, 0) / left.length;
  const twist = Math.max(...left.map((value) => Math.abs(value - even)));
  return [{ right: slope[0], away: slope[1], rightSure, awaySure }, twist];
}
