// Fields to type readings into, one big button to note them, and the doubt about those that look like a slip.
import { button, el } from "./dom.js";
import { doubtful } from "./doubt.js";
import { LengthError } from "./lengths.js";
import { latest, timeNow, valueOf } from "./log.js";

/**
 * A form of fields [{what, mark, label, hint, facts}] in ``app``. All that is typed is noted at once; ``before`` gives
 * lines that go with them. ``what`` moisture is read as per cent, all else as a length in any unit.
 */
export function entryForm(app, fields, { legend, isSpare = false, before = () => [] } = {}) {
  const rows = fields.map((field, k) => fieldRow(app, field, k));
  const trouble = el("div", { class: "trouble", role: "alert" });
  const note = el("button", { type: "submit", class: "note" }, app.t("note"));
  const form = el(
    "form",
    { class: "entry", novalidate: true, autocomplete: "off" },
    legend ? el("h2", {}, legend) : null,
    rows.map((row) => row.box),
    trouble,
    note,
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    submit(app, rows, { trouble, before, isSure: false });
  });
  if (isSpare) form.classList.add("spare");
  return form;
}

function fieldRow(app, field, k) {
  const id = `f-${field.what}-${field.mark}-${k}`.replace(/\W/g, "_");
  const isPercent = field.what === "moisture";
  const isDecimal = isPercent || app.speaker.unit === "mm" || app.speaker.unit === "m";
  const input = el("input", { id, type: "text", inputmode: isDecimal ? "decimal" : "text", enterkeyhint: "next" });
  const last = latest(app.store.lines, field.what).find((line) => line.mark === field.mark);
  const read =
    last && field.what !== "frame-rod"
      ? app.t("last-read", { value: app.valueSaid(last), by: app.saidBy(last) })
      : "";
  const words = [field.hint, read].filter(Boolean).join(app.speaker.isJapanese ? "・" : " · ");
  const hint = words ? el("span", { class: "hint", id: `${id}-hint` }, words) : null;
  if (hint) input.setAttribute("aria-describedby", `${id}-hint`);
  const label = el("label", { for: id }, el("span", { class: "name" }, field.label), hint);
  return { field, input, isPercent, box: el("div", { class: "field" }, label, input) };
}

function lineOf(app, row) {
  const { field, input, isPercent } = row;
  const text = input.value.trim();
  const base = { time: timeNow(), what: field.what, mark: field.mark, ...app.hand(), ...field.facts };
  if (isPercent) {
    const value = Number(text.normalize("NFKC").replace("%", ""));
    if (!(value >= 2 && value <= 150)) throw new LengthError("moisture-unread", text);
    return { ...base, value_pct: value };
  }
  const value = app.speaker.read(text);
  const least =
    { distance: 1, "post-gap": 0.1, "post-length": 1, "foot-gap": 0, "board-width": 1 }[field.what] ?? -100000;
  if (value < least || value > 100000) throw new LengthError("length-out-of-range", text);
  return { ...base, value_mm: value };
}

function submit(app, rows, { trouble, before, isSure }) {
  trouble.replaceChildren();
  const fresh = [];
  for (const row of rows) {
    row.input.removeAttribute("aria-invalid");
    if (!row.input.value.trim()) continue;
    try {
      fresh.push(lineOf(app, row));
    } catch (error) {
      if (!(error instanceof LengthError)) throw error;
      row.input.setAttribute("aria-invalid", "true");
      row.input.focus();
      const code = error.code === "moisture-unread" ? "moisture-unread" : "length-unread";
      trouble.append(
        el("p", {}, app.t(code, { found: error.found, example: app.t(`example-${app.speaker.unit}`) })),
      );
      return;
    }
  }
  if (!fresh.length) {
    trouble.append(el("p", {}, app.t("nothing-typed")));
    rows[0].input.focus();
    return;
  }
  const doubts = isSure ? [] : doubtful(app.pack, app.store.lines, fresh);
  if (doubts.length) return askAgain(app, rows, { trouble, before, doubts });
  app.note([...before(), ...fresh]);
}

function askAgain(app, rows, { trouble, before, doubts }) {
  for (const { line, nearest } of doubts) {
    const row = rows.find((one) => one.field.mark === line.mark && one.field.what === line.what);
    row.input.setAttribute("aria-invalid", "true");
    const facts = {
      label: row.field.label,
      found: app.speaker.said(valueOf(line)),
      nearest: app.speaker.said(nearest),
    };
    trouble.append(el("p", {}, app.t("doubtful", facts)));
  }
  const keep = button(app.t("keep-typed"), () => submit(app, rows, { trouble, before, isSure: true }));
  trouble.append(keep);
  const first = rows.find((one) => one.input.hasAttribute("aria-invalid"));
  first.input.focus();
  first.input.select();
}
