// Which slip of eye, hand or unit would explain a reading that cannot be right; as evenfoot.setting.slips.

const SHAKU = 10000 / 33;

function units(found) {
  return [10, 1000, 25.4, 304.8, 12, SHAKU, 100].flatMap((factor) => [found * factor, found / factor]);
}

function figuresOf(found) {
  const sign = found < 0 ? -1 : 1;
  const size = Math.abs(found);
  return { sign, whole: String(Math.trunc(size)), rest: size % 1 };
}

function swapped(found) {
  const { sign, whole, rest } = figuresOf(found);
  const out = [];
  for (let k = 0; k < whole.length - 1; k++) {
    const turned = whole.slice(0, k) + whole[k + 1] + whole[k] + whole.slice(k + 2);
    if (turned !== whole) out.push(sign * (Number(turned) + rest));
  }
  return out;
}

function marks(found) {
  const steps = [1000, 100, 50, 10, 304.8, 25.4, 12.7, SHAKU, SHAKU / 10];
  return steps.flatMap((step) => [found + step, found - step]);
}

function digits(found) {
  const { sign, whole, rest } = figuresOf(found);
  const out = [];
  for (let k = 0; k < whole.length - 1; k++) {
    for (const figure of "0123456789") {
      if (figure !== whole[k]) out.push(sign * (Number(whole.slice(0, k) + figure + whole.slice(k + 1)) + rest));
    }
  }
  return out;
}

const KINDS = [
  ["unit", units],
  ["sign", (found) => [-found]],
  ["swapped", swapped],
  ["mark", marks],
  ["figure", digits],
];

/** {kind, value} of the slip that brings a reading nearest to what is expected, null when none comes ``within`` it. */
export function likelySlip(found, expected, within) {
  if (Math.abs(found - expected) <= within) return null;
  for (const [kind, values] of KINDS) {
    let best = null;
    for (const value of values(found)) {
      const off = Math.abs(value - expected);
      if (off <= within && (best === null || off < Math.abs(best - expected))) best = value;
    }
    if (best !== null) return { kind, value: best };
  }
  return null;
}
