// Posts one by one: what to cut, what hangs, what to shave or pack.
import { answerBox, button, el, shape } from "./dom.js";
import { entryForm } from "./entry.js";
import { NINETEEN_IN_TWENTY, SiteError } from "./fit.js";
import { latest, timeNow } from "./log.js";
import { openSite } from "./posts_answer.js";
import { cutLine, roughOf } from "./posts_cut.js";

const GAP_KINDS = ["post-gap", "post-length", "foot-gap"];

function answerOf(app) {
  const found = app.reckoner.ask(app.store.lines, app.speaker.language, app.store.get("prefer", "shave"));
  if (found === null) return { lines: [app.t("reckoning")], isWaiting: true };
  return found.code ? app.fault(found) : found;
}

/** The floor with what is read of it; null where the readings cannot be of a floor that stands. */
function siteOf(app) {
  try {
    return openSite(app.pack.posts, app.store.lines);
  } catch (error) {
    if (error instanceof SiteError) return null;
    throw error;
  }
}

export const postsStation = {
  name: "posts",
  brief: (app) => answerOf(app).lines[0],
  page(app, part) {
    const answer = answerOf(app);
    const marks = app.pack.posts.cuts.map((cut) => cut.mark);
    if (part !== null && marks.includes(part)) return onePost(app, part, answer);
    const site = siteOf(app);
    return [answerBox(answer, app.t("more")), map(app, site, answer), list(app, site, answer), prefer(app, answer)];
  },
};

/** What is done to a post now: {shave|pack: mm}, or nothing. */
function changeOf(answer, mark) {
  return answer.record?.remedy?.changes?.find((change) => change.post === mark) ?? null;
}

const footOf = (answer, mark) =>
  answer.stage === "stand" ? answer.record.posts.find((post) => post.post === mark) : null;

/** How a post is told on the list: what to do to it now, else how it stands, else how long to cut it. */
function told(app, site, answer, place) {
  const { speaker } = app;
  const cut = app.pack.posts.cuts[place];
  const change = changeOf(answer, cut.mark);
  if (change) {
    const code = change.by_mm > 0 ? "pack-by" : "shave-by";
    return { text: app.t(code, { by: speaker.by(Math.abs(change.by_mm)) }), kind: "hand" };
  }
  const foot = footOf(answer, cut.mark);
  if (foot && foot.gap_mm > 0) return { text: app.t("hangs", { gap: speaker.fine(foot.gap_mm) }), kind: "hangs" };
  if (foot) return { text: app.t("stands"), kind: "stands" };
  if (site === null) return { text: app.t("rough-to", { length: speaker.small(cut.rough_mm) }), kind: "rough" };
  const need = site.needs[place];
  const asCut = site.readings.lengths.get(cut.mark);
  if (asCut !== undefined) return { text: app.t("is-cut", { length: speaker.small(asCut) }), kind: "cut" };
  if (need.isMeasured) return { text: app.t("cut-to", { length: speaker.small(need.need) }), kind: "final" };
  return { text: app.t("rough-to", { length: speaker.small(roughOf(site.posts, need, place)) }), kind: "rough" };
}

function list(app, site, answer) {
  const rows = app.pack.posts.cuts.map((cut, place) => {
    const { text, kind } = told(app, site, answer, place);
    const props = { class: `post ${kind}`, href: `#posts/${cut.mark}` };
    return el("li", {}, el("a", props, el("strong", {}, app.speaker.mark(cut.mark)), el("span", {}, text)));
  });
  return el("ul", { class: "posts" }, rows);
}

/** The posts from above; a filled square stands, an open one hangs, a triangle asks for a hand, a ring is not known. */
function map(app, site, answer) {
  const { cuts } = app.pack.posts;
  const [xs, ys] = [cuts.map((cut) => cut.x_mm), cuts.map((cut) => cut.y_mm)];
  const [x0, y0] = [Math.min(...xs), Math.min(...ys)];
  const scale = 300 / Math.max(Math.max(...xs) - x0, 1500);
  const height = 70 + (Math.max(...ys) - y0) * scale;
  const out = shape("svg", {
    viewBox: `0 0 360 ${height}`,
    class: "picture",
    role: "img",
    "aria-label": app.t("posts-picture"),
  });
  out.append(shape("line", { class: "house", x1: 8, y1: 10, x2: 352, y2: 10 }));
  cuts.forEach((cut, place) => {
    const [x, y] = [30 + (cut.x_mm - x0) * scale, 34 + (cut.y_mm - y0) * scale];
    const { kind } = told(app, site, answer, place);
    out.append(
      sign(kind, x, y),
      shape("text", { x, y: y + 24, "text-anchor": "middle", class: "small" }, app.speaker.mark(cut.mark)),
    );
  });
  return out;
}

function sign(kind, x, y) {
  const size = 9;
  if (kind === "hand") {
    const points = `${x},${y - size - 2} ${x + size + 2},${y + size} ${x - size - 2},${y + size}`;
    return shape("polygon", { class: kind, points });
  }
  if (kind === "rough" || kind === "final") return shape("circle", { class: kind, cx: x, cy: y, r: size });
  return shape("rect", { class: kind, x: x - size, y: y - size, width: 2 * size, height: 2 * size });
}

function prefer(app, answer) {
  if (answer.stage !== "stand") return null;
  const now = app.store.get("prefer", "shave");
  const turn = (hand) => () => {
    app.store.set("prefer", hand);
    app.render();
  };
  const choice = (hand) => button(app.t(`prefer-${hand}`), turn(hand), { "aria-pressed": String(now === hand) });
  return el(
    "div",
    { class: "beside", role: "group", "aria-label": app.t("prefer") },
    choice("shave"),
    choice("pack"),
  );
}

function onePost(app, mark, answer) {
  const place = app.pack.posts.cuts.findIndex((cut) => cut.mark === mark);
  const site = siteOf(app);
  const now = told(app, site, answer, place);
  const foot = footOf(answer, mark);
  const lines = [`${app.speaker.mark(mark)}: ${now.text}`];
  if (site) lines.push(...besideIt(app, site, place, foot));
  const fields = GAP_KINDS.map((what) => ({
    what,
    mark,
    label: app.t(`field-${what}`),
    hint: hintOf(app, site, place, what),
  }));
  const tape = app.pack.posts.figures.gap_reading_mm;
  fields[0].facts = { accuracy_mm: tape };
  return [
    answerBox({ lines }),
    quick(app, mark),
    entryForm(app, fields, { legend: app.t("measure") }),
    neighbours(app, place),
  ];
}

function besideIt(app, site, place, foot) {
  const need = site.needs[place];
  const out = [cutLine(site, need, place, app.speaker)];
  if (foot) {
    const facts = { mark: app.speaker.mark(need.mark), travel: app.speaker.fine(foot.travel_mm) };
    const isUp = foot.gap_mm > 0;
    const more = isUp ? { gap: app.speaker.fine(foot.gap_mm) } : { kg: app.speaker.kg(foot.force_n ?? 0) };
    out.push(app.speaker.say(`setting.posts.${isUp ? "foot-hangs" : "foot-stands"}`, { ...facts, ...more }));
  }
  return out;
}

function hintOf(app, site, place, what) {
  if (!site || what === "foot-gap") return app.t(`hint-${what}`);
  const sure = app.speaker.plus(NINETEEN_IN_TWENTY * site.needs[place].sigma);
  return app.t(`hint-${what}`, { length: app.speaker.small(site.needs[place].need), sure });
}

/** One touch for what needs no figure: the foot stands, a jack stands beside it. */
function quick(app, mark) {
  const line = (what, more = {}) => ({ time: timeNow(), what, mark, ...app.hand(), ...more });
  const hasJack = latest(app.store.lines, "jack").some((one) => one.mark === mark);
  return el(
    "div",
    { class: "beside" },
    button(app.t("foot-stands"), () => app.note([line("foot-gap", { value_mm: 0 })])),
    button(app.t("jack-here"), () => app.note([line("jack")]), { "aria-pressed": String(hasJack) }),
  );
}

function neighbours(app, place) {
  const { cuts } = app.pack.posts;
  const step = (by) => {
    const other = cuts[place + by];
    const words = other && app.t(by > 0 ? "next-post" : "post-before", { mark: app.speaker.mark(other.mark) });
    return other ? el("a", { class: "step", href: `#posts/${other.mark}` }, words) : null;
  };
  return el("nav", { class: "beside", "aria-label": app.t("station-posts") }, step(-1), step(1));
}
