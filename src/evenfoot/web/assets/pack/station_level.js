// Level: what a rod reads at each post, one survey after the other; which feet to turn out.
import { answerBox, button, el } from "./dom.js";
import { entryForm } from "./entry.js";
import { answerLevel, lastStand, lastSurvey, standName } from "./level_answer.js";

const answerOf = (app) => app.answer(() => answerLevel(app.pack.level, app.store.lines, app.speaker));

/** The stand that the next readings belong to: the last one, until a new one is asked for. */
function standNow(app) {
  const last = lastStand(app.store.lines) ?? { survey: 0, number: 1 };
  const wanted = app.store.get("stand", null);
  const isLater =
    wanted && (wanted.survey > last.survey || (wanted.survey === last.survey && wanted.number > last.number));
  if (isLater) return wanted;
  return last.survey ? last : { survey: 1, number: 1 };
}

export const levelStation = {
  name: "level",
  brief: (app) => answerOf(app)?.lines[0] ?? app.t("level-begin"),
  page(app) {
    const answer = answerOf(app) ?? { lines: [app.t("level-begin"), app.t("level-how")] };
    const stand = standNow(app);
    const read = lastSurvey(app.store.lines).filter((line) => line.stand === standName(stand));
    const facts = { stand: standName(stand) };
    const fields = app.pack.level.spots.map((spot) => fieldOf(app, spot, read, facts));
    const first = read[0];
    if (first && read.length > 1) {
      const mark = app.speaker.mark(first.mark);
      fields.push({ what: "frame-rod", mark: first.mark, label: mark, hint: app.t("level-close"), facts });
    }
    return [
      answerBox(answer, app.t("more")),
      entryForm(app, fields, { legend: app.t("level-stand", { survey: stand.survey, stand: stand.number }) }),
      el("div", { class: "beside" }, fresh(app, stand)),
    ];
  },
};

function fieldOf(app, spot, read, facts) {
  const last = read.filter((line) => line.mark === spot.mark).pop();
  const value = last ? app.t("last-read", { value: app.speaker.said(last.value_mm), by: app.saidBy(last) }) : "";
  const place = spot.is_foot ? "" : app.speaker.say(`setting.corner-${Number(spot.mark) - 1}`);
  const hint = [place, value].filter(Boolean).join(app.speaker.isJapanese ? "・" : " · ");
  return { what: "frame-rod", mark: spot.mark, label: app.speaker.mark(spot.mark), hint, facts };
}

function fresh(app, stand) {
  const begin = (next) => () => {
    app.store.set("stand", next);
    app.render();
  };
  return [
    button(app.t("level-new-survey"), begin({ survey: stand.survey + 1, number: 1 })),
    button(app.t("level-moved"), begin({ survey: stand.survey, number: stand.number + 1 })),
  ];
}
