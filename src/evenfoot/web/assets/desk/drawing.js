// The drawings of the page at hand: come closer, move, choose a timber, drag an edge or a line of posts.
//
// watchDrawing(element, { onPick, onDrag, say }) looks after every drawing (SVG) inside an element, also after the
// page has put others in their place: call renew({ names, grips }) then. Words come from the element's data attributes,
// which office.desk's drawing_words tells: keys, whole, closer, further.

import { formatLength } from "../pack/lengths.js";
import { layGrips } from "./drawing_grips.js";
import { View } from "./drawing_view.js";

// A finger is this wide: what lies nearer than half of it to a tap counts as tapped [screen dots].
const FINGER_PX = 24;
const RINGS = [0, 0.5, 1];
const WAYS = 8;

// `onPick(mark)` is told the mark of what was chosen, "" for nothing; `onDrag({ kind, id, axis, from_mm, to_mm })`
// where a grip was left; `say(mm, unit)` writes a length.
// Returns { select(marks), renew({ names, grips }), marks, whole(), dispose() }.
export function watchDrawing(element, options = {}) {
  return new Drawing(element, options);
}

class Drawing {
  constructor(element, { onPick = () => {}, onDrag = () => {}, say = formatLength }) {
    Object.assign(this, { element, onPick, onDrag, say });
    this.chosen = new Set();
    this.names = {};
    this.grips = [];
    this.places = new Map();
    this.views = [];
    this.renew();
  }

  // Takes hold of the drawings that stand there now; each is seen where the one of its name was seen before.
  renew({ names = this.names, grips = this.grips } = {}) {
    Object.assign(this, { names, grips });
    for (const view of this.views) this.places.set(view.svg.dataset.code, view.place);
    this.ended?.abort();
    this.ended = new AbortController();
    const { signal } = this.ended;
    this.views = [...this.element.querySelectorAll("svg[data-code]")].map((svg) => this.#attach(svg, signal));
    this.#mark();
  }

  get marks() {
    return [...new Set(this.views.flatMap((view) => view.members.map(([mark]) => mark)))];
  }

  // Outlines what bears these marks, in vermilion, and nothing else.
  select(marks) {
    this.chosen = new Set(marks);
    this.#mark();
  }

  // Shows every drawing as a whole again.
  whole() {
    for (const view of this.views) view.all();
  }

  dispose() {
    this.ended.abort();
    for (const view of this.views) view.layer.remove();
    this.views = [];
  }

  #attach(svg, signal) {
    svg.querySelector(":scope > .grips")?.remove();
    const view = new View(svg, { signal, onStill: (event) => this.#choose(this.#under(event)) });
    view.members = membersOf(svg);
    for (const [mark, group] of view.members) {
      group.setAttribute("role", "button");
      group.setAttribute("tabindex", "-1");
      group.setAttribute("aria-label", [this.names[mark] ?? mark, textOf(group)].filter(Boolean).join(", "));
    }
    svg.setAttribute("tabindex", "0");
    svg.setAttribute("role", "group");
    svg.setAttribute("focusable", "true");
    const title = svg.querySelector(":scope > title")?.textContent ?? "";
    svg.setAttribute("aria-label", [title, this.element.dataset.keys].filter(Boolean).join(". "));
    svg.addEventListener("keydown", (event) => this.#key(view, event), { signal });
    view.layer = layGrips(view, this.grips, { signal, say: this.say, onMove: (move) => this.onDrag(move) });
    const place = this.places.get(svg.dataset.code);
    if (place) view.place = place;
    return view;
  }

  #key(view, event) {
    const step = { PageDown: 1, PageUp: -1 }[event.key];
    if (step) this.#walk(view, step);
    else if ((event.key === "Enter" || event.key === " ") && event.target.dataset.member) {
      this.#choose(event.target.dataset.member);
    } else if (event.key === "Escape" && this.chosen.size) this.#choose("");
    else if (!view.answer(event)) return;
    event.preventDefault();
  }

  // Goes to the next timber of a drawing, or the one before.
  #walk(view, step) {
    const groups = view.members.map(([, group]) => group);
    if (!groups.length) return;
    const at = groups.indexOf(document.activeElement);
    const next = at < 0 ? (step > 0 ? 0 : groups.length - 1) : (at + step + groups.length) % groups.length;
    groups[next].focus({ preventScroll: true });
  }

  // The mark under a pointer, or the nearest that a finger covers.
  #under(event) {
    for (const ring of RINGS) {
      for (let way = 0; way < (ring ? WAYS : 1); way += 1) {
        const turn = (2 * Math.PI * way) / WAYS;
        const reach = (ring * FINGER_PX) / 2;
        const found = document
          .elementsFromPoint(event.clientX + reach * Math.cos(turn), event.clientY + reach * Math.sin(turn))
          .find((one) => !one.closest(".grips"));
        const group = found?.closest("[data-member]");
        if (group && this.element.contains(group)) return group.dataset.member;
      }
    }
    return "";
  }

  #choose(mark) {
    this.select(mark ? [mark] : []);
    this.onPick(mark);
  }

  #mark() {
    for (const group of this.element.querySelectorAll("g[data-member]")) {
      const isChosen = this.chosen.has(group.dataset.member);
      group.classList.toggle("is-chosen", isChosen);
      if (group.getAttribute("role") === "button") group.setAttribute("aria-pressed", String(isChosen));
    }
  }
}

// The first group of every mark that stands for a thing, in the order of drawing: what it is named and reached by. A
// post stands before its footing.
function membersOf(svg) {
  const found = new Map();
  for (const group of svg.querySelectorAll("g[data-member]")) {
    const { layer, member } = group.dataset;
    const isThing = !["grid", "dimension", "grain", "mark"].includes(layer);
    if (isThing && (!found.has(member) || found.get(member).dataset.layer === "footing")) found.set(member, group);
  }
  return [...found];
}

// What stands written in a group: its name has to hold that too.
function textOf(group) {
  return [...group.querySelectorAll("text")].map((text) => text.textContent.trim()).join(" ");
}
