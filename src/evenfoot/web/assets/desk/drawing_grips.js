// What can be taken hold of on a plan: edges of the floor and lines of posts. A grip follows the pointer or the arrow
// keys, holds fast at places worth stopping at, tells its measure while it moves, and says in the end where it is to
// be.
//
// A grip comes as data (office.desk's grips_of makes it): { kind, id, name, axis, at_mm, across_mm: [from, to],
// range_mm: [low, high], stops_mm: [...], step_mm, is_bound, zero_mm, unit }. It moves along its axis and is drawn
// across it; `is_bound` lets it stand at its stops alone; what is told is its distance from `zero_mm`. An edge can be
// taken anywhere along it, a line of posts by the ring beyond its end alone, so that timbers under it can be chosen.

const NAMESPACE = "http://www.w3.org/2000/svg";
const CATCH_PX = 10;
const REACH_PX = 12;
const BIG = 10;
const RING_PX = 5;
const BEYOND_PX = 17;
const STILL_PX = 4;

// Draws the grips of one view. `say(mm, unit)` writes a length; `onMove({ kind, id, axis, from_mm, to_mm })` is told in
// the end where a grip was left.
export function layGrips(view, grips, { signal, say, onMove }) {
  const layer = make("g", { class: "grips" });
  if (view.isReal) {
    for (const grip of grips) layer.append(new Grip(view, grip, { signal, say, onMove }).group);
    view.svg.append(layer);
  }
  return layer;
}

class Grip {
  constructor(view, grip, { signal, say, onMove }) {
    Object.assign(this, { view, grip, say, onMove, to: grip.at_mm });
    this.hit = make("line", { class: "grip-hit" });
    this.line = make("line", { class: "grip-line" });
    this.ring = make("circle", { class: "grip-ring" });
    this.text = make("text", { class: "grip-text" });
    this.group = make("g", { class: "grip", role: "slider", tabindex: "0" });
    Object.assign(this.group.dataset, { kind: grip.kind, id: grip.id });
    this.group.setAttribute("aria-label", grip.name);
    this.group.setAttribute("aria-valuemin", String(Math.round(grip.range_mm[0] - grip.zero_mm)));
    this.group.setAttribute("aria-valuemax", String(Math.round(grip.range_mm[1] - grip.zero_mm)));
    this.group.setAttribute("aria-orientation", grip.axis === "x" ? "horizontal" : "vertical");
    this.group.append(this.hit, this.line, this.ring, this.text);
    const on = (target, name, act) => target.addEventListener(name, act, { signal });
    on(this.group, "pointerdown", (event) => this.#take(event));
    on(this.group, "pointermove", (event) => this.#pull(event));
    on(this.group, "pointerup", (event) => this.#leave(event));
    on(this.group, "pointercancel", () => this.#back());
    on(this.group, "keydown", (event) => this.#key(event));
    on(this.group, "blur", () => this.to !== this.grip.at_mm && !this.held && this.#back());
    on(view.svg, "viewmoved", () => this.#show());
    this.#show();
  }

  #take(event) {
    if (event.button !== 0) return;
    event.preventDefault();
    event.stopPropagation();
    this.held = { start: this.#along(event), at: this.to, from: [event.clientX, event.clientY], isStill: true };
    this.group.setPointerCapture(event.pointerId);
    this.group.focus({ preventScroll: true });
  }

  #pull(event) {
    if (!this.held) return;
    const [x, y] = this.held.from;
    if (this.held.isStill && Math.hypot(event.clientX - x, event.clientY - y) <= STILL_PX) return;
    this.held.isStill = false;
    const wanted = this.held.at + this.#along(event) - this.held.start;
    this.to = this.#snapped(wanted, CATCH_PX * this.#perDot());
    this.#show();
  }

  #leave(event) {
    if (!this.held) return;
    event.stopPropagation();
    const { isStill } = this.held;
    this.held = null;
    if (isStill) this.view.onStill(event);
    else this.#settle();
    this.#show();
  }

  #key(event) {
    const isAlongX = this.grip.axis === "x";
    const ways = isAlongX ? { ArrowRight: 1, ArrowLeft: -1 } : { ArrowUp: 1, ArrowDown: -1 };
    const way = ways[event.key];
    if (way) this.to = this.#next(way, event.shiftKey ? BIG : 1);
    else if (event.key === "Enter" || event.key === " ") this.#settle();
    else if (event.key === "Escape") this.#back();
    else return;
    event.preventDefault();
    event.stopPropagation();
    this.#show();
  }

  // One step on, to the next stop where it is bound to those.
  #next(way, steps) {
    const { stops_mm: stops, step_mm: step, is_bound: isBound, range_mm: range } = this.grip;
    if (!isBound) return within(Math.round(this.to / step + way * steps) * step, range);
    const ahead = stops.filter((stop) => (stop - this.to) * way > 0.01);
    return ahead.length ? (way > 0 ? Math.min(...ahead) : Math.max(...ahead)) : this.to;
  }

  #snapped(wanted, reach) {
    const { stops_mm: stops, step_mm: step, is_bound: isBound, range_mm: range } = this.grip;
    const off = (stop) => Math.abs(stop - wanted);
    const nearest = stops.reduce((best, stop) => (off(stop) < off(best) ? stop : best), Infinity);
    if (isBound) return Number.isFinite(nearest) ? nearest : this.grip.at_mm;
    if (Math.abs(nearest - wanted) <= reach) return within(nearest, range);
    return within(Math.round(wanted / step) * step, range);
  }

  #settle() {
    const { kind, id, axis, at_mm: from } = this.grip;
    const to = this.to;
    if (Math.abs(to - from) < 0.01) this.#back();
    else this.onMove({ kind, id, axis, from_mm: from, to_mm: to });
  }

  #back() {
    this.held = null;
    this.to = this.grip.at_mm;
    this.#show();
  }

  #along(event) {
    return this.view.real(this.view.paper(event))[this.grip.axis];
  }

  #perDot() {
    return this.view.dot * Number(this.view.svg.dataset.scale);
  }

  #show() {
    const { axis, across_mm: across, at_mm: from, zero_mm: zero } = this.grip;
    const point = (end) => this.view.drawn(axis === "x" ? { x: this.to, y: end } : { x: end, y: this.to });
    const [a, b] = across.map(point);
    const { dot } = this.view;
    set(this.line, { x1: a.x, y1: a.y, x2: b.x, y2: b.y });
    // The ring of a line of posts stands where no running dimensions are: below the house, or at the right.
    const ends = axis === "x" ? [b, a] : [a, b];
    const [c, d, ring] = this.grip.kind === "edge" ? [a, b, beyond(a, b, 0.5)] : past(...ends, BEYOND_PX * dot);
    set(this.hit, { x1: c.x, y1: c.y, x2: d.x, y2: d.y, "stroke-width": 2 * REACH_PX * dot });
    set(this.ring, { cx: ring.x, cy: ring.y, r: RING_PX * dot });
    const said = this.say(Math.abs(this.to - zero), this.grip.unit);
    this.group.setAttribute("aria-valuenow", String(Math.round(this.to - zero)));
    this.group.setAttribute("aria-valuetext", said);
    const isMoved = Math.abs(this.to - from) >= 0.01;
    this.group.classList.toggle("is-moved", isMoved || Boolean(this.held));
    this.text.textContent = isMoved || this.held ? said : "";
    const size = 16 * dot;
    set(this.text, { x: (a.x + b.x) / 2 + size / 2, y: (a.y + b.y) / 2 - size / 2, "font-size": size });
    set(this.text, { "stroke-width": size / 4 });
  }
}

// The point at a share of the way from a to b.
function beyond(a, b, share) {
  return { x: a.x + (b.x - a.x) * share, y: a.y + (b.y - a.y) * share };
}

// The two ends of a short line past b, away from a, and its middle, which lies `reach` away from b.
function past(a, b, reach) {
  const share = reach / Math.hypot(b.x - a.x, b.y - a.y);
  return [beyond(a, b, 1 + 0.7 * share), beyond(a, b, 1 + 1.6 * share), beyond(a, b, 1 + share)];
}

function within(value, [low, high]) {
  return Math.min(high, Math.max(low, value));
}

function make(name, attributes) {
  const made = document.createElementNS(NAMESPACE, name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  return made;
}

function set(element, attributes) {
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, Number(value).toFixed(4));
}
