// Weighted least squares with its covariance, and how much misfit chance explains; as evenfoot.solvers.fit.
import { apply, applyLeft, dot, singular, transpose } from "./linear.js";

/** Half width of the middle 95 % of a normal spread, in standard deviations. */
export const NINETEEN_IN_TWENTY = 1.959963984540054;

/** Something cannot be answered; ``code`` as the engine has it. */
export class SiteError extends Error {
  constructor(code, found = "") {
    super(`${code}: ${found}`);
    this.code = code;
    this.found = found;
  }
}

/** {coefficients, covariance, residuals, misfitSquares, freedom} of values by design @ coefficients. */
export function fitLinear(design, values, sigmas) {
  const unknowns = design[0].length;
  const weighted = design.map((row, i) => row.map((value) => value / sigmas[i]));
  const scale = transpose(weighted).map((one) => Math.sqrt(dot(one, one)));
  const even = weighted.map((row) => row.map((value, k) => value / (scale[k] > 0 ? scale[k] : 1)));
  if (design.length < unknowns) throw new SiteError("fit-underdetermined", String(design.length));
  const { left, sizes, right } = singular(even);
  const rank = sizes.filter((size) => size > sizes[0] * 1e-12).length;
  if (rank < unknowns) throw new SiteError("fit-underdetermined", String(rank));
  const half = right.map((row) => row.map((value, k) => value / sizes[k]));
  const along = applyLeft(
    values.map((value, i) => value / sigmas[i]),
    left,
  );
  const coefficients = apply(half, along).map((value, k) => value / scale[k]);
  const residuals = apply(design, coefficients).map((value, i) => values[i] - value);
  return {
    coefficients,
    covariance: half.map((a, i) => half.map((b, k) => dot(a, b) / (scale[i] * scale[k]))),
    residuals,
    misfitSquares: residuals.reduce((sum, value, i) => sum + (value / sigmas[i]) ** 2, 0),
    freedom: design.length - unknowns,
  };
}

/**
 * The complementary error function. Source: its continued fraction and its series; M. Abramowitz and I. Stegun,
 * Handbook of Mathematical Functions, 1964, 7.1.14 and 7.1.6.
 */
export function erfc(x) {
  if (x < 2.5) {
    let term = x;
    let sum = x;
    for (let k = 1; k < 120; k++) {
      term *= (2 * x * x) / (2 * k + 1);
      sum += term;
      if (term < 1e-18 * sum) break;
    }
    return 1 - (2 / Math.sqrt(Math.PI)) * Math.exp(-x * x) * sum;
  }
  let tail = 0;
  for (let k = 160; k >= 1; k--) tail = k / 2 / (x + tail);
  return Math.exp(-x * x) / (Math.sqrt(Math.PI) * (x + tail));
}

/** log of the gamma function for 1, 3/2, 2, 5/2 .. exactly by its recurrence. */
function logGamma(x) {
  let sum = 0;
  while (x > 1.5) {
    x -= 1;
    sum += Math.log(x);
  }
  return x === 1.5 ? sum + Math.log(Math.sqrt(Math.PI) / 2) : sum;
}

function chiTail(x, freedom) {
  if (x <= 0) return 1;
  const isOdd = freedom % 2 === 1;
  let total = isOdd ? erfc(Math.sqrt(x / 2)) : 0;
  for (let k = 0; k < Math.floor(freedom / 2); k++) {
    const power = (isOdd ? 0.5 : 0) + k;
    total += Math.exp(power * Math.log(x / 2) - x / 2 - logGamma(power + 1));
  }
  return Math.min(1, total);
}

/** The chi-squared that chance oversteps in ``share`` of all cases. Source: Abramowitz and Stegun, 26.4.4, 26.4.5. */
export function chiSquaredLimit(share, freedom) {
  let high = freedom;
  while (chiTail(high, freedom) > share) high *= 2;
  let low = 0;
  for (let k = 0; k < 48; k++) {
    const middle = (low + high) / 2;
    if (chiTail(middle, freedom) - share > 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
