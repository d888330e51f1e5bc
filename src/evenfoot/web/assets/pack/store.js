// What this phone has noted: every line under a key of its own, written before it is shown, never rewritten.
import { idOf, tidyLine, union } from "./log.js";

/** Keeps readings, ticks and hours of one job; ``isKept`` is false where the browser keeps nothing. */
export class Store {
  constructor(jobKey, brought) {
    this.prefix = `evenfoot:${jobKey}:`;
    this.brought = brought;
    this.held = new Map();
    this.area = areaOf();
    this.isKept = this.area !== null;
    this.lines = union(brought, this.own());
  }

  /** Read again what is kept: another page of the same job may have noted something. */
  refresh() {
    this.lines = union(
      this.brought,
      union(
        this.lines.filter((line) => !this.isBrought(line)),
        this.own(),
      ),
    );
  }

  isBrought(line) {
    return this.brought.some((other) => other.id === line.id);
  }

  get(name, otherwise) {
    const text = this.area ? this.area.getItem(this.prefix + name) : this.held.get(name);
    return text === null || text === undefined ? otherwise : JSON.parse(text);
  }

  set(name, value) {
    const text = JSON.stringify(value);
    this.held.set(name, text);
    try {
      this.area?.setItem(this.prefix + name, text);
    } catch {
      this.isKept = false;
    }
  }

  /** Every line noted here, in the order that they were noted. */
  own() {
    if (!this.area) return [...(this.lines ?? [])].filter((line) => !this.isBrought(line));
    const found = [];
    for (let k = 0; k < this.area.length; k++) {
      const key = this.area.key(k);
      if (key.startsWith(`${this.prefix}line:`)) found.push(JSON.parse(this.area.getItem(key)));
    }
    found.sort((a, b) => a.at - b.at || a.place - b.place);
    return found.map(({ line }) => line);
  }

  /** Add facts: each is on the phone before this returns. Returns them with their ids. */
  add(rows) {
    const added = rows.map((row) => {
      const line = tidyLine(row);
      return { ...line, id: idOf(line) };
    });
    added.forEach((line, place) => this.set(`line:${line.id}`, { at: Date.now(), place, line }));
    this.lines = union(this.lines, added);
    return added;
  }

  /** Lines noted here that were not handed over yet. */
  waiting() {
    return this.lines.filter((line) => !this.isBrought(line) && !this.get(`given:${line.id}`, false));
  }

  given(lines) {
    for (const line of lines) this.set(`given:${line.id}`, true);
  }
}

/** The browser's own store, null where a page from a file has none. */
function areaOf() {
  try {
    const area = window.localStorage;
    area.setItem("evenfoot:try", "1");
    area.removeItem("evenfoot:try");
    return area;
  } catch {
    return null;
  }
}
