// Small dense matrices as arrays of rows: solving, inverses, singular values, least squares.

export const dot = (a, b) => a.reduce((sum, value, k) => sum + value * b[k], 0);
export const column = (matrix, k) => matrix.map((row) => row[k]);
export const transpose = (matrix) => (matrix.length ? matrix[0].map((_, k) => column(matrix, k)) : []);
export const zeros = (rows, columns) => Array.from({ length: rows }, () => new Array(columns).fill(0));

/** matrix @ vector. */
export const apply = (matrix, vector) => matrix.map((row) => dot(row, vector));

/** vector @ matrix. */
export function applyLeft(vector, matrix) {
  const out = new Array(matrix.length ? matrix[0].length : 0).fill(0);
  for (let i = 0; i < matrix.length; i++) {
    const [factor, row] = [vector[i], matrix[i]];
    if (factor !== 0) for (let k = 0; k < row.length; k++) out[k] += factor * row[k];
  }
  return out;
}

/** a @ b. */
export const multiply = (a, b) => a.map((row) => applyLeft(row, b));

/** Solve matrix @ x = right for every column of ``right`` (rows of arrays), by elimination with the largest pivots. */
export function solveMany(matrix, right) {
  const n = matrix.length;
  const rows = matrix.map((row, i) => [...row, ...right[i]]);
  for (let k = 0; k < n; k++) {
    let best = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(rows[i][k]) > Math.abs(rows[best][k])) best = i;
    [rows[k], rows[best]] = [rows[best], rows[k]];
    const pivot = rows[k];
    for (let i = k + 1; i < n; i++) {
      const factor = rows[i][k] / pivot[k];
      if (factor !== 0) for (let j = k; j < pivot.length; j++) rows[i][j] -= factor * pivot[j];
    }
  }
  const out = zeros(n, right[0].length);
  for (let k = n - 1; k >= 0; k--) {
    for (let j = 0; j < out[k].length; j++) {
      let value = rows[k][n + j];
      for (let i = k + 1; i < n; i++) value -= rows[k][i] * out[i][j];
      out[k][j] = value / rows[k][k];
    }
  }
  return out;
}

export const solve = (matrix, right) =>
  column(
    solveMany(
      matrix,
      right.map((value) => [value]),
    ),
    0,
  );

export const identity = (n) => zeros(n, n).map((row, i) => row.map((_, k) => (i === k ? 1 : 0)));

export const inverse = (matrix) => (matrix.length ? solveMany(matrix, identity(matrix.length)) : []);

/**
 * Singular values, largest first, of a matrix with at least as many rows as columns: {left (n, p), sizes, right (p, p)}
 * with matrix = left @ diag(sizes) @ right^T. Source: one-sided Jacobi rotations; G. Golub and C. Van Loan,
 * Matrix Computations, 4th ed., 2013, 8.6.3.
 */
export function singular(matrix) {
  const columns = transpose(matrix);
  const p = columns.length;
  const right = identity(p);
  for (let sweep = 0; sweep < 60; sweep++) {
    let isDone = true;
    for (let i = 0; i < p - 1; i++) {
      for (let k = i + 1; k < p; k++) {
        const [a, b, c] = [dot(columns[i], columns[i]), dot(columns[k], columns[k]), dot(columns[i], columns[k])];
        if (Math.abs(c) <= 1e-16 * Math.sqrt(a * b) || c === 0) continue;
        isDone = false;
        const zeta = (b - a) / (2 * c);
        const tangent = (zeta >= 0 ? 1 : -1) / (Math.abs(zeta) + Math.hypot(1, zeta));
        const cosine = 1 / Math.hypot(1, tangent);
        rotate(columns, i, k, cosine, cosine * tangent);
        rotate(right, i, k, cosine, cosine * tangent);
      }
    }
    if (isDone) break;
  }
  const sizes = columns.map((one) => Math.sqrt(dot(one, one)));
  const order = sizes.map((_, k) => k).sort((a, b) => sizes[b] - sizes[a]);
  return {
    left: transpose(order.map((k) => columns[k].map((value) => (sizes[k] > 0 ? value / sizes[k] : 0)))),
    sizes: order.map((k) => sizes[k]),
    right: transpose(order.map((k) => right[k])),
  };
}

function rotate(rows, i, k, cosine, sine) {
  const [first, second] = [rows[i], rows[k]];
  for (let j = 0; j < first.length; j++) {
    const [a, b] = [first[j], second[j]];
    first[j] = cosine * a - sine * b;
    second[j] = sine * a + cosine * b;
  }
}

/** The singular values of any matrix, largest first. */
export const sizesOf = (matrix) =>
  matrix.length >= (matrix[0]?.length ?? 0) ? singular(matrix).sizes : singular(transpose(matrix)).sizes;

/** How many singular values exceed ``least``. */
export const rankOf = (matrix, least) =>
  matrix.length ? sizesOf(matrix).filter((size) => size > least).length : 0;

/** The x of least squares of matrix @ x = right, for a matrix of full column rank. */
export function leastSquares(matrix, right) {
  const { left, sizes, right: turn } = singular(matrix);
  const along = applyLeft(right, left).map((value, k) => value / sizes[k]);
  return apply(turn, along);
}

/** The pseudo-inverse of a matrix of full column rank, (p, n). */
export function pseudoInverse(matrix) {
  const { left, sizes, right } = singular(matrix);
  return right.map((row) => left.map((across) => row.reduce((sum, v, k) => sum + (v / sizes[k]) * across[k], 0)));
}

/** Middle and quantile of numbers, as numpy's linear interpolation has them. */
export function quantile(values, share) {
  const sorted = [...values].filter((value) => !Number.isNaN(value)).sort((a, b) => a - b);
  const place = share * (sorted.length - 1);
  const low = Math.floor(place);
  const high = Math.min(low + 1, sorted.length - 1);
  const [a, b, t] = [sorted[low], sorted[high], place - low];
  return t >= 0.5 ? b - (b - a) * (1 - t) : a + (b - a) * t;
}

/** The sum of numbers without loss, as Python's math.fsum (Shewchuk's partial sums). */
export function exactSum(values) {
  const parts = [];
  for (let value of values) {
    let kept = 0;
    for (let other of parts) {
      if (Math.abs(value) < Math.abs(other)) [value, other] = [other, value];
      const high = value + other;
      const low = other - (high - value);
      if (low) parts[kept++] = low;
      value = high;
    }
    parts.length = kept;
    parts.push(value);
  }
  let total = 0;
  for (let k = parts.length - 1; k >= 0; k--) total += parts[k];
  return total;
}
