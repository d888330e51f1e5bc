// Which typed readings look like a slip, before they are noted; as evenfoot set refuses them.
import { NINETEEN_IN_TWENTY } from "./fit.js";
import { likelySlip } from "./slips.js";
import { lastSurvey } from "./level_answer.js";
import { rowOf } from "./boards_answer.js";
import { basesOf, postReadings } from "./posts_read.js";

const FAR = 0.05;
const NEAR = 0.02;
const GROSS = 15;
const WIDE = 25;
const FAR_OFF = 40;

/** {expected, free, near} of a reading [mm]; free raises no doubt, and a slip must come as near as near. */
function expectation(pack, lines, fresh, line) {
  const { what, mark } = line;
  if (what === "distance") {
    const [a, b] = mark.split("-").map((corner) => pack.square.corners_mm[Number(corner) - 1]);
    const expected = Math.hypot(a[0] - b[0], a[1] - b[1]);
    return { expected, free: FAR * expected, near: NEAR * expected };
  }
  if (what === "foot-gap") return { expected: 0, free: WIDE, near: WIDE };
  if (what === "post-gap" || what === "post-length") return post(pack, lines, fresh, line);
  if (what === "board-edge" || what === "board-width") {
    const [, near, far] = pack.boards.rows[rowOf(mark).row - 1];
    const isEdge = what === "board-edge";
    const free = (isEdge ? 0.6 : 0.15) * (far - near);
    return { expected: isEdge ? far : far - near, free, near: free / 4 };
  }
  if (what === "bow") return bow(pack, line);
  if (what === "frame-rod") return rod(lines, fresh, line);
  return null;
}

function post(pack, lines, fresh, { what, mark }) {
  const bases = basesOf(pack.posts, postReadings(lines, pack.posts));
  const base = bases.find((one) => one.mark === mark);
  const gap = fresh.find((one) => one.what === "post-gap" && one.mark === mark);
  const expected = what === "post-length" && gap ? gap.value_mm : base.length;
  const free = Math.max(GROSS, 3 * NINETEEN_IN_TWENTY * base.sigma);
  return { expected, free, near: free };
}

/** No board that anyone would carry to the site is bowed by more than a fiftieth of its length. */
function bow(pack, { mark }) {
  const [, length] = pack.boards.pieces_mm.flat().find(([own]) => own === mark);
  const most = length / 50;
  return { expected: 0, free: most, near: most / 4, likely: most / 4 };
}

function rod(lines, fresh, line) {
  const others = [...lastSurvey(lines), ...fresh]
    .filter((one) => one.what === "frame-rod" && one.stand === line.stand && one !== line)
    .map((one) => one.value_mm)
    .sort((a, b) => a - b);
  if (others.length < 2) return null;
  const half = others.length / 2;
  const expected = others.length % 2 ? others[Math.floor(half)] : (others[half - 1] + others[half]) / 2;
  return { expected, free: FAR_OFF, near: FAR_OFF / 2 };
}

/** Readings about to be noted that look like a slip: [{line, nearest}] with the value that would fit [mm]. */
export function doubtful(pack, lines, fresh) {
  const out = [];
  for (const line of fresh) {
    const found = expectation(pack, lines, fresh, line);
    if (!found || Math.abs(line.value_mm - found.expected) <= found.free) continue;
    // A bow has a sign; a slip is sought in its size, about what a board may have.
    const value = found.likely ? Math.abs(line.value_mm) : line.value_mm;
    const slip = likelySlip(value, found.likely ?? found.expected, found.near);
    out.push({ line, nearest: Math.max(0, slip ? slip.value : (found.likely ?? found.expected)) });
  }
  return out;
}
