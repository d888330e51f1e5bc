// Squaring: four sides and two diagonals in, which corner to push how far out.
import { answerBox, shape } from "./dom.js";
import { entryForm } from "./entry.js";
import { answerSquare } from "./square_answer.js";

const PAIRS = [
  [0, 1],
  [1, 2],
  [2, 3],
  [3, 0],
  [0, 2],
  [1, 3],
];
const nameOf = ([a, b]) => `${Math.min(a, b) + 1}-${Math.max(a, b) + 1}`;

const answerOf = (app) => app.answer(() => answerSquare(app.pack.square, app.store.lines, app.speaker));

export const squareStation = {
  name: "square",
  brief: (app) => answerOf(app)?.lines[0] ?? app.t("square-begin"),
  page(app) {
    const answer = answerOf(app) ?? { lines: [app.t("square-begin"), app.t("square-how")] };
    const fields = PAIRS.map(([a, b]) => ({
      what: "distance",
      mark: nameOf([a, b]),
      label: nameOf([a, b]),
      hint: app.speaker.say(`setting.line-${a}${b}`),
    }));
    return [answerBox(answer, app.t("more")), picture(app), entryForm(app, fields, { legend: app.t("measure") })];
  },
};

/** The frame from above, the house at the top, its lean drawn large; corners numbered, the push as an arrow. */
function picture(app) {
  const { corners_mm: corners, within_mm: within } = app.pack.square;
  const [width, depth] = corners[2];
  const scale = 290 / Math.max(width, depth);
  const lean = leanOf(app);
  const isOff = Math.abs(lean) > within;
  const drawn = isOff ? Math.sign(lean) * 22 : 0;
  const at = corners.map(([x, y], k) => [42 + x * scale + (k > 1 ? drawn : 0), 26 + y * scale]);
  const height = 56 + depth * scale;
  const out = shape("svg", {
    viewBox: `0 0 ${84 + width * scale} ${height}`,
    class: "picture",
    role: "img",
    "aria-label": app.t("square-picture"),
  });
  out.append(shape("line", { class: "house", x1: 8, y1: 12, x2: 76 + width * scale, y2: 12 }));
  out.append(shape("polygon", { class: "object", points: at.map((p) => p.join()).join(" ") }));
  for (const [a, b] of [
    [0, 2],
    [1, 3],
  ]) {
    out.append(shape("line", { class: "thin", x1: at[a][0], y1: at[a][1], x2: at[b][0], y2: at[b][1] }));
  }
  at.forEach(([x, y], k) => {
    out.append(shape("circle", { class: "knot", cx: x, cy: y, r: 13 }));
    out.append(shape("text", { x, y: y + 6, "text-anchor": "middle" }, String(k + 1)));
  });
  if (isOff) out.append(arrow(at[lean > 0 ? 2 : 3], lean > 0 ? -1 : 1));
  return out;
}

/** How far the outer side stands off to the right, 0 where that is not known for sure [mm]. */
function leanOf(app) {
  const answer = answerOf(app);
  const record = answer?.record;
  return !record || record.shape === "open" || record.suspects.length ? 0 : record.lean_mm;
}

function arrow([x, y], way) {
  const [from, to] = [x + way * 18, x + way * 74];
  const head = `${to},${y} ${to - way * 16},${y - 9} ${to - way * 16},${y + 9}`;
  const push = shape("g", { class: "push" });
  push.append(shape("line", { x1: from, y1: y, x2: to - way * 14, y2: y }), shape("polygon", { points: head }));
  return push;
}
