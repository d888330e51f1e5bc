// The page as a whole: which station is open, what is noted, in which language.
import { button, el } from "./dom.js";
import { timeNow } from "./log.js";
import { SiteError } from "./fit.js";
import { fixed } from "./rational.js";
import { Speaker } from "./words.js";
import { Store } from "./store.js";

/** One page of one pack; ``stations`` are [{name, brief(app), page(app, part)}] in the order of the work. */
export class App {
  constructor(pack, root, stations, reckoner) {
    Object.assign(this, { pack, root, stations, reckoner });
    this.store = new Store(pack.job.key, pack.log);
    this.speak(this.store.get("language", pack.language));
    window.addEventListener("hashchange", () => this.open());
    window.addEventListener("storage", () => {
      this.store.refresh();
      this.render();
    });
    this.open();
  }

  speak(language) {
    this.speaker = new Speaker(this.pack.words, language, this.pack.job.unit);
    document.documentElement.lang = language;
    document.title = this.t("title", { job: this.pack.job.name });
  }

  t(code, facts) {
    return this.speaker.say(`pack.${code}`, facts);
  }

  /** Who reads and with what, for each line. */
  hand() {
    return { who: this.store.get("who", ""), instrument: this.store.get("instrument", "") };
  }

  valueSaid(line) {
    return line.what === "moisture" ? `${line.value_pct} %` : this.speaker.said(line.value_mm ?? 0);
  }

  saidBy(line) {
    return this.speaker.join([line.time.slice(11, 16) || line.time, line.who].filter(Boolean));
  }

  hours(value) {
    return fixed(value, 1);
  }

  /** An answer, or in words why there is none. */
  answer(act) {
    try {
      return act();
    } catch (error) {
      if (error instanceof SiteError) return this.fault(error);
      throw error;
    }
  }

  fault({ code, found }) {
    const own = `fault-${code}`;
    return { lines: [this.speaker.knows(`pack.${own}`) ? this.t(own, { found }) : this.t("fault", { found })] };
  }

  note(lines) {
    this.store.add(lines);
    this.render({ focus: "answer" });
  }

  undo(line) {
    this.store.add([{ time: timeNow(), what: "undo", mark: line.mark, ...this.hand(), of: line.id }]);
    this.render({ focus: "answer" });
  }

  open() {
    const [name, part] = decodeURIComponent(location.hash.slice(1)).split("/");
    this.station = this.stations.find((one) => one.name === name) ?? null;
    this.part = part ?? null;
    this.render({ focus: "title" });
  }

  /** Draw the open station anew; ``focus`` says where reading goes on. */
  render({ focus = null } = {}) {
    const at = focus === "title" ? 0 : window.scrollY;
    const open = [...this.root.querySelectorAll("details")].map((one) => one.open);
    const typed = focus === null ? typedIn(this.root) : null;
    const body = this.station ? this.station.page(this, this.part) : this.home();
    this.root.replaceChildren(this.head(), ...[body].flat(Infinity).filter(Boolean));
    if (focus === "title") {
      this.root.querySelector("h1").focus({ preventScroll: true });
      window.scrollTo(0, 0);
      return;
    }
    [...this.root.querySelectorAll("details")].forEach((one, k) => {
      one.open = open[k] ?? false;
    });
    restore(typed);
    window.scrollTo(0, focus === "answer" && this.root.querySelector(".answer") ? 0 : at);
  }

  head() {
    const other = this.speaker.isJapanese ? "en" : "ja";
    const turn = () => {
      this.store.set("language", other);
      this.speak(other);
      this.render();
    };
    const title = this.station ? this.t(`station-${this.station.name}`) : this.pack.job.name;
    const back = this.part !== null && this.station ? `#${this.station.name}` : "#";
    return el(
      "header",
      {},
      this.station ? el("a", { class: "back", href: back, "aria-label": this.t("back") }, "←") : null,
      el("h1", { tabindex: "-1" }, title),
      button(this.t("other-language"), turn, { class: "tongue", lang: other }),
    );
  }

  home() {
    const rows = this.stations.map((one) =>
      el(
        "li",
        {},
        el(
          "a",
          { class: "station", href: `#${one.name}` },
          el("strong", {}, this.t(`station-${one.name}`)),
          el("span", {}, one.brief(this)),
        ),
      ),
    );
    const { revision, date } = this.pack.job;
    const out = [el("p", { class: "revision" }, this.t("revision", { revision, date: date || "–" }))];
    if (this.pack.job.verdict !== "ok")
      out.push(el("p", { class: "warn" }, this.t(`verdict-${this.pack.job.verdict}`)));
    if (!this.store.isKept) out.push(el("p", { class: "warn" }, this.t("not-kept")));
    return [
      ...out,
      el("nav", { "aria-label": this.t("stations") }, el("ul", { class: "stations" }, rows)),
      this.caution(),
    ];
  }

  caution() {
    return el("p", { class: "caution" }, this.t("caution"));
  }
}

/** What stands in the fields of a page, and where the cursor is: a page that is drawn anew must not lose it. */
function typedIn(root) {
  const fields = [...root.querySelectorAll("input[type=text]")].filter(
    (field) => field.value !== field.defaultValue,
  );
  return { values: new Map(fields.map((field) => [field.id, field.value])), at: document.activeElement?.id };
}

function restore(typed) {
  if (typed === null) return;
  for (const [id, value] of typed.values) {
    const field = document.getElementById(id);
    if (field) field.value = value;
  }
  if (typed.at) document.getElementById(typed.at)?.focus({ preventScroll: true });
}
