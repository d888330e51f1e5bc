// One drawing on the screen: which part of its paper is seen, moved by wheel, fingers and keys; and where on the real
// floor a point of the screen lies.

const MOST = 40;
const STEP = 1.25;
const SHIFT = 0.12;
const STILL_PX = 4;

export class View {
  // `svg` is a drawing as it came; `onStill(event)` is called when a pointer goes down and up without moving.
  constructor(svg, { signal, onStill = () => {} }) {
    this.svg = svg;
    const { x, y, width, height } = svg.viewBox.baseVal;
    this.whole = { x, y, width, height };
    this.seen = { ...this.whole };
    this.pointers = new Map();
    this.onStill = onStill;
    const on = (name, act, options = {}) => svg.addEventListener(name, act, { signal, ...options });
    on("wheel", (event) => this.#wheel(event), { passive: false });
    on("pointerdown", (event) => this.#down(event));
    on("pointermove", (event) => this.#move(event));
    on("pointerup", (event) => this.#up(event));
    on("pointercancel", (event) => this.#forget(event));
    this.#show();
  }

  get zoom() {
    return this.whole.width / this.seen.width;
  }

  // Where the eye is, as shares of the paper, so that another drawing of the same name can be seen alike.
  get place() {
    const { whole, seen } = this;
    const middle = [seen.x + seen.width / 2, seen.y + seen.height / 2];
    return {
      across: (middle[0] - whole.x) / whole.width,
      down: (middle[1] - whole.y) / whole.height,
      zoom: this.zoom,
    };
  }

  set place({ across, down, zoom }) {
    const { whole } = this;
    this.seen.width = whole.width / zoom;
    this.seen.height = whole.height / zoom;
    this.seen.x = whole.x + across * whole.width - this.seen.width / 2;
    this.seen.y = whole.y + down * whole.height - this.seen.height / 2;
    this.#show();
  }

  // Comes closer by a factor about a point of the paper; the middle when none is given.
  come(factor, at = null) {
    const { seen, whole } = this;
    const zoom = Math.min(MOST, Math.max(1, this.zoom * factor));
    const middle = at ?? { x: seen.x + seen.width / 2, y: seen.y + seen.height / 2 };
    const shares = [(middle.x - seen.x) / seen.width, (middle.y - seen.y) / seen.height];
    seen.width = whole.width / zoom;
    seen.height = whole.height / zoom;
    seen.x = middle.x - shares[0] * seen.width;
    seen.y = middle.y - shares[1] * seen.height;
    this.#show();
  }

  // Moves what is seen by shares of itself.
  slide(right, down) {
    this.seen.x += right * this.seen.width;
    this.seen.y += down * this.seen.height;
    this.#show();
  }

  all() {
    this.seen = { ...this.whole };
    this.#show();
  }

  // Does what a key asks for and returns whether it asked for anything.
  answer(event) {
    if (event.ctrlKey || event.altKey || event.metaKey) return false;
    const moves = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
    const move = moves[event.key];
    if (move && this.zoom > 1) this.slide(move[0] * SHIFT, move[1] * SHIFT);
    else if (["+", "=", ";"].includes(event.key)) this.come(STEP);
    else if (event.key === "-") this.come(1 / STEP);
    else if (event.key === "Home") this.all();
    else return false;
    return true;
  }

  // The point of the paper [mm] under a point of the screen.
  paper(event) {
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.svg.getScreenCTM().inverse());
    return { x, y };
  }

  // How many millimetres of paper a dot of the screen takes.
  get dot() {
    return 1 / this.svg.getScreenCTM().a;
  }

  // Whether the drawing tells where the real floor lies on its paper.
  get isReal() {
    return Number(this.svg.dataset.scale) > 0 && this.svg.dataset.x0 !== undefined;
  }

  // The place on the floor [mm: x along the wall, y away from the house] of a point of the paper, and back.
  real({ x, y }) {
    const { scale, x0, y0 } = this.svg.dataset;
    return { x: (x - Number(x0)) * Number(scale), y: (Number(y0) - y) * Number(scale) };
  }

  drawn({ x, y }) {
    const { scale, x0, y0 } = this.svg.dataset;
    return { x: Number(x0) + x / Number(scale), y: Number(y0) - y / Number(scale) };
  }

  #show() {
    const { seen, whole } = this;
    seen.x = Math.min(whole.x + whole.width - seen.width, Math.max(whole.x, seen.x));
    seen.y = Math.min(whole.y + whole.height - seen.height, Math.max(whole.y, seen.y));
    this.svg.setAttribute("viewBox", [seen.x, seen.y, seen.width, seen.height].map((v) => v.toFixed(4)).join(" "));
    this.svg.classList.toggle("is-close", this.zoom > 1.001);
    this.svg.dispatchEvent(new CustomEvent("viewmoved"));
  }

  // The wheel comes closer where the drawing is at hand, or with Ctrl, as a pinch on a trackpad says it; else the page
  // rolls on as it would.
  #wheel(event) {
    if (!event.ctrlKey && !this.svg.contains(document.activeElement)) return;
    event.preventDefault();
    this.come(STEP ** (-event.deltaY / 100), this.paper(event));
  }

  #down(event) {
    if (event.button !== 0 || event.defaultPrevented) return;
    this.pointers.set(event.pointerId, { x: event.clientX, y: event.clientY, from: [event.clientX, event.clientY] });
    this.hasMoved = this.pointers.size > 1 || false;
  }

  #move(event) {
    const held = this.pointers.get(event.pointerId);
    if (!held) return;
    const far = Math.hypot(event.clientX - held.from[0], event.clientY - held.from[1]);
    if (!this.hasMoved && far <= STILL_PX) return;
    if (!this.hasMoved) this.svg.setPointerCapture(event.pointerId);
    this.hasMoved = true;
    if (this.pointers.size === 2) this.#pinch(event, held);
    else if (this.zoom > 1) this.#drag(event, held);
    Object.assign(held, { x: event.clientX, y: event.clientY });
  }

  #drag(event, held) {
    this.seen.x -= (event.clientX - held.x) * this.dot;
    this.seen.y -= (event.clientY - held.y) * this.dot;
    this.#show();
  }

  #pinch(event, held) {
    const [other] = [...this.pointers.entries()].filter(([id]) => id !== event.pointerId).map(([, one]) => one);
    const before = Math.hypot(held.x - other.x, held.y - other.y);
    const after = Math.hypot(event.clientX - other.x, event.clientY - other.y);
    const middle = { clientX: (event.clientX + other.x) / 2, clientY: (event.clientY + other.y) / 2 };
    if (before > 0) this.come(after / before, this.paper(middle));
  }

  #up(event) {
    const wasHeld = this.pointers.has(event.pointerId);
    const isStill = wasHeld && !this.hasMoved && this.pointers.size === 1;
    this.#forget(event);
    if (isStill) this.onStill(event);
  }

  #forget(event) {
    this.pointers.delete(event.pointerId);
  }
}
