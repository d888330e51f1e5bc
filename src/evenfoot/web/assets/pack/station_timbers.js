// Marks for the timber in hand: every cut in running dimensions from its named end.
import { el, shape } from "./dom.js";
import { entryForm } from "./entry.js";

export const timbersStation = {
  name: "timbers",
  brief: (app) => app.t("timbers-begin", { count: app.pack.timbers.length }),
  page(app, part) {
    const timber = app.pack.timbers.find((one) => one.mark === part);
    return timber ? oneTimber(app, timber) : choose(app);
  },
};

function choose(app) {
  return ["beam", "joist", "block"].flatMap((role) => {
    const some = app.pack.timbers.filter((one) => one.role === role);
    if (!some.length) return [];
    const rows = some.map((one) => {
      const length = el("span", {}, app.speaker.cut(one.length_mm));
      return el(
        "li",
        {},
        el(
          "a",
          { class: "tile", href: `#timbers/${one.mark}` },
          el("strong", {}, app.speaker.mark(one.mark)),
          length,
        ),
      );
    });
    return [el("h2", {}, app.t(`role-${role}`)), el("ul", { class: "tiles" }, rows)];
  });
}

function oneTimber(app, timber) {
  const { speaker } = app;
  const cut = (mm) => speaker.cut(mm);
  const size = app.t("timber-size", {
    mark: speaker.mark(timber.mark),
    length: cut(timber.length_mm),
    section: `${cut(timber.width_mm)} × ${cut(timber.depth_mm)}`,
  });
  const end = app.t(timber.is_along_house ? "named-end-left" : "named-end-house");
  const box = el("section", { class: "answer" }, el("p", { class: "first" }, size), el("p", { class: "do" }, end));
  return [box, bar(app, timber), cuts(app, timber), moisture(app, timber), neighbours(app, timber)];
}

/** How wet it came: noted for whoever wonders later why it shrank. */
function moisture(app, timber) {
  const asked = [{ what: "moisture", mark: timber.mark, label: app.t("moisture") }];
  return entryForm(app, asked, { legend: app.t("moisture-read"), isSpare: true });
}

/** The timber as a bar with every cut where it lies; length and height are not to one scale. */
function bar(app, timber) {
  const scale = 320 / timber.length_mm;
  const out = shape("svg", {
    viewBox: "0 0 360 78",
    class: "picture",
    role: "img",
    "aria-label": app.t("bar-picture"),
  });
  out.append(shape("rect", { class: "object", x: 20, y: 24, width: 320, height: 34 }));
  for (const cut of timber.cuts) {
    const at = 20 + cut.begin_mm * scale;
    const width = Math.max(2, (cut.finish_mm - cut.begin_mm) * scale);
    const isUnder = cut.face === "bottom";
    out.append(shape("rect", { class: "gone", x: at, y: isUnder ? 41 : 24, width, height: 17 }));
    out.append(
      shape(
        "text",
        { class: "small", x: at + width / 2, y: isUnder ? 74 : 18, "text-anchor": "middle" },
        app.speaker.mark(cut.line),
      ),
    );
  }
  return out;
}

function cuts(app, timber) {
  if (!timber.cuts.length) return el("p", {}, app.t("no-cuts"));
  const length = (mm) => app.speaker.cutBare(mm);
  const head = ["cut-with", "cut-begin", "cut-finish", "cut-deep", "cut-face"].map((code) =>
    el("th", { scope: "col" }, app.t(code)),
  );
  const rows = timber.cuts.map((cut) => {
    const face = app.speaker.say(`sheet-face.${cut.face}`);
    const kind = app.speaker.say(`sheet-cut.${cut.kind}`);
    const deep = cut.height_mm
      ? `${length(cut.depth_mm)} × ${length(cut.height_mm)}`
      : cut.depth_mm
        ? length(cut.depth_mm)
        : "";
    const lean = cut.angle_deg ? `${cut.angle_deg.toFixed(1)}°` : "";
    return el(
      "tr",
      {},
      el("th", { scope: "row" }, app.speaker.mark(cut.line)),
      el("td", {}, length(cut.begin_mm)),
      el("td", {}, length(cut.finish_mm)),
      el("td", {}, [deep, lean].filter(Boolean).join(" ")),
      el("td", { class: "word" }, `${kind}${app.speaker.comma}${face}`),
    );
  });
  return el(
    "table",
    {},
    el("caption", {}, app.t(app.speaker.cut(1).endsWith(" mm") ? "cuts-running-mm" : "cuts-running")),
    el("thead", {}, el("tr", {}, head)),
    el("tbody", {}, rows),
  );
}

function neighbours(app, timber) {
  const every = app.pack.timbers;
  const place = every.indexOf(timber);
  const step = (other, code) =>
    other &&
    el("a", { class: "step", href: `#timbers/${other.mark}` }, app.t(code, { mark: app.speaker.mark(other.mark) }));
  return el(
    "nav",
    { class: "beside", "aria-label": app.t("station-timbers") },
    step(every[place - 1], "timber-before"),
    step(every[place + 1], "timber-next"),
  );
}
