// All that is noted: what counts, what disagrees, and how it gets to the office.
import { button, el } from "./dom.js";
import { conflicts, standing, written } from "./log.js";
import { hoursText } from "./station_steps.js";

export const readingsStation = {
  name: "readings",
  brief(app) {
    const count = app.store.waiting().length;
    return count ? app.t("waiting", { count }) : app.t("none-waiting");
  },
  page(app) {
    const told = el(
      "section",
      { class: "answer", "aria-live": "polite" },
      el("p", { class: "first" }, this.brief(app)),
    );
    const state = el("p", { class: "hint", role: "status" });
    return [told, handOver(app, state), state, disagree(app), list(app), hand(app)];
  },
};

const isFromProgram = (app) => Boolean(app.pack.log_url) && /^https?:$/.test(location.protocol);
const fileText = (lines) => lines.map((line) => `${written(line)}\n`).join("");

function handOver(app, state) {
  const lines = app.store.waiting();
  const every = app.store.lines.filter((line) => !app.store.isBrought(line));
  const given = (said) => {
    app.store.given(lines);
    app.render();
    app.root.querySelector("[role=status]").textContent = said;
  };
  const told = (text) => {
    state.textContent = text;
  };
  const buttons = [
    button(app.t("save"), () => save(app, every, given)),
    button(app.t("copy"), () => copy(app, every, given, told)),
  ];
  if (navigator.share) buttons.unshift(button(app.t("share"), () => share(app, every, given, told)));
  if (isFromProgram(app))
    buttons.unshift(button(app.t("send"), () => send(app, lines, given, told), { class: "note" }));
  if (!every.length) for (const one of buttons) one.disabled = true;
  return el("div", { class: "beside" }, buttons);
}

const fileName = (app) => `${app.pack.job.name.replace(/[^\p{L}\p{N}]+/gu, "-")}-${app.pack.job.revision}.jsonl`;

function save(app, lines, given) {
  const address = URL.createObjectURL(new Blob([fileText(lines)], { type: "application/jsonl" }));
  const link = el("a", { href: address, download: fileName(app) });
  document.body.append(link);
  link.click();
  link.remove();
  given(app.t("saved", { file: fileName(app) }));
}

async function copy(app, lines, given, told) {
  const text = fileText(lines);
  try {
    await navigator.clipboard.writeText(text);
  } catch {
    const area = el("textarea", { class: "copied", readonly: true, "aria-label": app.t("copy") });
    area.value = text;
    document.body.append(area);
    area.select();
    const isDone = document.execCommand("copy");
    area.remove();
    if (!isDone) return told(app.t("copy-failed"));
  }
  return given(app.t("copied"));
}

async function share(app, lines, given, told) {
  try {
    await navigator.share({ title: app.pack.job.name, text: fileText(lines) });
    given(app.t("shared"));
  } catch {
    told(app.t("not-shared"));
  }
}

async function send(app, lines, given, told) {
  told(app.t("sending"));
  try {
    const body = JSON.stringify({ lines: lines.map((line) => JSON.parse(written(line))) });
    const answer = await fetch(app.pack.log_url, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body,
    });
    if (!answer.ok) throw new Error(String(answer.status));
    given(app.t("sent", { count: lines.length }));
  } catch {
    told(app.t("not-sent"));
  }
}

function what(app, line) {
  const kind = app.speaker.say(`log-kind.${line.what}`);
  return [kind, app.speaker.mark(line.mark ?? "")].filter(Boolean).join(" ");
}

const hasValue = (line) => line.value_mm !== undefined || line.value_pct !== undefined;
const reading = (app, line) =>
  hasValue(line) ? app.t("reading", { value: app.valueSaid(line), by: app.saidBy(line) }) : app.saidBy(line);

/** Readings of one thing that differ: all are kept, the last one counts. */
function disagree(app) {
  const found = conflicts(app.store.lines);
  if (!found.length) return null;
  const rows = found.map(([counts, ...others]) =>
    el(
      "li",
      { class: "differs" },
      el("strong", {}, what(app, counts)),
      ` ≠ ${app.t("counts", { reading: reading(app, counts) })} `,
      app.t("also-read", { readings: app.speaker.join(others.map((line) => reading(app, line))) }),
    ),
  );
  return [el("h2", {}, app.t("differ")), el("ul", { class: "lines" }, rows)];
}

function list(app) {
  const stands = new Set(standing(app.store.lines).map((line) => line.id));
  const rows = [...app.store.lines]
    .reverse()
    .filter((line) => line.what !== "undo")
    .map((line) => {
      const isStanding = stands.has(line.id);
      const isWaiting = !app.store.isBrought(line) && !app.store.get(`given:${line.id}`, false);
      const name = what(app, line);
      const undo = isStanding
        ? button(app.t("undo"), () => app.undo(line), { "aria-label": app.t("undo-this", { what: name }) })
        : el("span", { class: "hint" }, app.t("undone"));
      const words = [reading(app, line), isWaiting ? app.t("not-given") : ""]
        .filter(Boolean)
        .join(app.speaker.isJapanese ? "・" : " · ");
      return el(
        "li",
        { class: isStanding ? "" : "undone" },
        el("span", {}, el("strong", {}, name), " ", words),
        undo,
      );
    });
  if (!rows.length) return null;
  return [el("h2", {}, app.t("all-readings")), el("ul", { class: "lines" }, rows)];
}

/** Who reads and with what; and the hours, to be copied. */
function hand(app) {
  const field = (name) => {
    const input = el("input", { id: `hand-${name}`, type: "text", maxlength: 40, value: app.store.get(name, "") });
    input.addEventListener("change", () => app.store.set(name, input.value.trim()));
    return el(
      "div",
      { class: "field" },
      el("label", { for: `hand-${name}` }, el("span", { class: "name" }, app.t(name))),
      input,
    );
  };
  const hours = hoursText(app);
  const list = hours ? [el("h2", {}, app.t("hours-kept")), el("pre", {}, hours)] : [];
  return [el("h2", {}, app.t("hand")), el("div", { class: "entry" }, field("who"), field("instrument")), ...list];
}
