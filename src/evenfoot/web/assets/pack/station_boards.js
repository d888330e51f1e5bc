// Boards: the far edge of the row just laid in, the spacer for the next rows out, and every mark.
import { answerBox, el } from "./dom.js";
import { entryForm } from "./entry.js";
import { answerBoards, laidOf, rowMark } from "./boards_answer.js";

const answerOf = (app) => app.answer(() => answerBoards(app.pack.boards, app.store.lines, app.speaker));

export const boardsStation = {
  name: "boards",
  brief: (app) => answerOf(app).lines[0],
  page(app) {
    const answer = answerOf(app);
    const count = app.pack.boards.rows.length;
    const row = rowNow(app, count);
    const parts = [chooseRow(app, row, count), fields(app, row), bows(app, row), marks(app, answer)];
    return [answerBox(answer, app.t("more")), ...parts];
  },
};

/** The row whose edge is read next: as chosen, else a few on from the last one laid. */
function rowNow(app, count) {
  const { laid } = laidOf(app.store.lines);
  const chosen = app.store.get("row", null);
  return Math.min(count, chosen !== null && chosen > laid ? chosen : laid + 1);
}

function chooseRow(app, row, count) {
  const input = el("input", { id: "row", type: "text", inputmode: "numeric", value: row });
  input.addEventListener("change", () => {
    const typed = Number(input.value.normalize("NFKC"));
    if (!Number.isInteger(typed) || typed < 1 || typed > count) {
      input.setAttribute("aria-invalid", "true");
      return;
    }
    app.store.set("row", typed);
    app.render();
  });
  const label = el(
    "label",
    { for: "row" },
    el("span", { class: "name" }, app.t("row")),
    el("span", { class: "hint" }, app.t("row-of", { count })),
  );
  return el("div", { class: "field alone" }, label, input);
}

function fields(app, row) {
  const [, near, far] = app.pack.boards.rows[row - 1];
  const plan = (mm) => app.t("planned", { length: app.speaker.said(mm) });
  const edge = (side) => ({
    what: "board-edge",
    mark: rowMark(row, side),
    label: app.t(`edge-${side || "both"}`),
    hint: plan(far),
  });
  return entryForm(
    app,
    [
      edge(""),
      edge("left"),
      edge("right"),
      { what: "board-width", mark: rowMark(row, ""), label: app.t("width"), hint: plan(far - near) },
      {
        what: "moisture",
        mark: rowMark(row, ""),
        label: app.t("moisture"),
        hint: app.t("moisture-planned", { pct: app.pack.boards.moist.day_pct }),
      },
    ],
    { legend: app.t("boards-read", { row }) },
  );
}

/** The boards of a row before they are fixed: how far each stands off a string line; the computer tells what to do. */
function bows(app, row) {
  const pieces = app.pack.boards.pieces_mm[row - 1];
  const asked = pieces.map(([mark], k) => ({
    what: "bow",
    mark,
    label: pieces.length === 1 ? app.t("bow") : app.t("bow-of", { number: k + 1 }),
    hint: app.t("bow-hint"),
  }));
  return entryForm(app, asked, { legend: app.t("bows-read"), isSpare: true });
}

/** Every mark still to make, as running dimensions from the starting edge. */
function marks(app, answer) {
  if (!answer.ends) return null;
  const said = (mm) => app.speaker.said(mm);
  return answer.ends.map((end) => {
    const head = [app.t("row"), app.t("mark-near"), app.t("mark-far")].map((text) =>
      el("th", { scope: "col" }, text),
    );
    const rows = end.marks.map((m) =>
      el("tr", {}, el("th", { scope: "row" }, m.row), el("td", {}, said(m.near)), el("td", {}, said(m.far))),
    );
    const side = end.side ? app.speaker.say(`setting.boards.${end.side}`) : "";
    const start = app.speaker.say(`setting.boards.start-${app.pack.boards.start}`);
    const title = [app.t("marks-hooked", { start }), side]
      .filter(Boolean)
      .join(app.speaker.isJapanese ? "・" : ", ");
    return el("table", {}, el("caption", {}, title), el("thead", {}, el("tr", {}, head)), el("tbody", {}, rows));
  });
}
