// The drawings: chosen from a list, then as large as a finger wants them.
import { button, el } from "./dom.js";

const SIZES = [100, 180, 300, 450];

export const drawingsStation = {
  name: "drawings",
  brief: (app) => app.t("drawings-begin", { count: app.pack.drawings.length }),
  page(app, part) {
    const drawing = app.pack.drawings.find((one) => one.code === part);
    if (drawing) return one(app, drawing);
    const rows = app.pack.drawings.map((d) =>
      el(
        "li",
        {},
        el(
          "a",
          { class: "tile wide", href: `#drawings/${d.code}` },
          el("strong", {}, d.title[app.speaker.language]),
        ),
      ),
    );
    return el("ul", { class: "tiles" }, rows);
  },
};

function one(app, drawing) {
  const place = app.store.get("size", 0);
  const parsed = new DOMParser().parseFromString(drawing.svg[app.speaker.language], "image/svg+xml");
  const svg = document.importNode(parsed.documentElement, true);
  svg.removeAttribute("width");
  svg.removeAttribute("height");
  svg.style.width = `${SIZES[place]}%`;
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", drawing.title[app.speaker.language]);
  const turn = (by) => () => {
    app.store.set("size", Math.max(0, Math.min(SIZES.length - 1, place + by)));
    app.render();
  };
  const larger = button("+", turn(1), { "aria-label": app.t("larger"), disabled: place === SIZES.length - 1 });
  const smaller = button("−", turn(-1), { "aria-label": app.t("smaller"), disabled: place === 0 });
  const sheet = el(
    "div",
    { class: "sheet", tabindex: "0", role: "region", "aria-label": drawing.title[app.speaker.language] },
    svg,
  );
  return [
    el("h2", {}, drawing.title[app.speaker.language]),
    el("div", { class: "beside" }, smaller, larger),
    sheet,
  ];
}
