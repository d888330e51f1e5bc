// The steps of the work: ticked off, with a clock for the hours of each. Ticks and hours stay on this phone.
import { button, el } from "./dom.js";

const HOUR = 3_600_000;

/** {isDone, ms, since} of a step; ``since`` is when its clock was started, null while it stands. */
const stateOf = (app, step) => app.store.get(`step:${step.number}`, { isDone: false, ms: 0, since: null });

function change(app, step, by) {
  app.store.set(`step:${step.number}`, { ...stateOf(app, step), ...by });
  app.render();
}

const spent = ({ ms, since }, now) => (ms + (since === null ? 0 : now - since)) / HOUR;

/** Hours of every step as words to copy. */
export function hoursText(app) {
  const now = Date.now();
  return app.pack.steps
    .map((step) => ({ step, hours: spent(stateOf(app, step), now) }))
    .filter(({ hours }) => hours > 0)
    .map(
      ({ step, hours }) =>
        `${step.number}. ${step.text[app.speaker.language]}: ${app.t("hours", { hours: app.hours(hours) })}`,
    )
    .join("\n");
}

export const stepsStation = {
  name: "steps",
  brief(app) {
    const next = app.pack.steps.find((step) => !stateOf(app, step).isDone);
    return next
      ? app.t("step-next", { number: next.number, step: next.text[app.speaker.language] })
      : app.t("steps-done");
  },
  page(app) {
    const now = Date.now();
    const total = app.pack.steps.reduce((sum, step) => sum + spent(stateOf(app, step), now), 0);
    const planned = app.pack.steps.reduce((sum, step) => sum + step.hours, 0);
    const words = app.t("hours-total", { hours: app.hours(total), planned: app.hours(planned) });
    const box = el(
      "section",
      { class: "answer" },
      el("p", { class: "first" }, this.brief(app)),
      el("p", { class: "sure" }, words),
    );
    return [
      box,
      el(
        "ol",
        { class: "steps" },
        app.pack.steps.map((step) => row(app, step, now)),
      ),
      el("p", { class: "hint" }, app.t("hours-stay")),
    ];
  },
};

function row(app, step, now) {
  const state = stateOf(app, step);
  const words = step.text[app.speaker.language];
  const id = `step-${step.number}`;
  const tick = el("input", {
    type: "checkbox",
    id,
    on: { change: (event) => finish(app, step, event.target.checked) },
  });
  tick.checked = state.isDone;
  const label = el("label", { for: id }, el("strong", {}, `${step.number}`), el("span", {}, words));
  const cautions = step.cautions.map((one) => el("p", { class: "warn" }, one[app.speaker.language]));
  const isRunning = state.since !== null;
  const clock = button(app.t(isRunning ? "clock-stop" : "clock-start"), () => turn(app, step), {
    class: isRunning ? "clock running" : "clock",
    "aria-label": app.t(isRunning ? "clock-stop-step" : "clock-start-step", { step: words }),
  });
  const facts = { hours: app.hours(spent(state, now)), planned: app.hours(step.hours) };
  const wait = step.wait_hours
    ? el("span", { class: "hint" }, app.t("wait", { hours: app.hours(step.wait_hours) }))
    : null;
  const hours = el("span", { class: "hours" }, app.t(step.hours > 0 ? "hours-of" : "hours", facts));
  return el(
    "li",
    { class: state.isDone ? "done" : "" },
    el("div", { class: "tick" }, tick, label),
    cautions,
    el("div", { class: "time" }, hours, wait, clock),
  );
}

function finish(app, step, isDone) {
  const state = stateOf(app, step);
  const stopped = { ms: spent(state, Date.now()) * HOUR, since: null };
  change(app, step, { isDone, ...(isDone ? stopped : {}) });
}

function turn(app, step) {
  const state = stateOf(app, step);
  const now = Date.now();
  if (state.since === null) change(app, step, { since: now });
  else change(app, step, { ms: spent(state, now) * HOUR, since: null });
}
