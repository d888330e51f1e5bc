// The floor in space on the page: turn it, pick a timber, see it outlined.
//
// showSpace(element, { url, onPick, label }) fills an empty element with the picture of the GLB file at `url` and
// returns what the page steers it by. Words come from the element's data attributes, which office.desk's space_words
// tells: above, front, side, corner, closer, further, boards, frame, posts, house, keys, missing, failed.

import { Raycaster, Scene, Vector2, WebGLRenderer } from "../vendor/three.js";
import { Eye } from "./space_eye.js";
import { LOOK, bodyAt, outlineOf, readFloor, release, thin, wallOf } from "./space_floor.js";

const GROUPS = { boards: ["board"], frame: ["beam", "joist", "block"], posts: ["post", "footing"] };
const STILL_PX = 5;
const MOST_DENSE = 2;

// Shows a floor. `onPick(mark)` is called with the mark of what was picked, or "" for nothing.
// Returns { isDrawn, marks, select(mark), show(url), look(view), hide(group, isHidden), place, dispose() }.
export async function showSpace(element, { url, onPick = () => {}, label = "" }) {
  const space = new Space(element, onPick, label);
  await space.show(url);
  return space;
}

class Space {
  constructor(element, onPick, label) {
    this.element = element;
    this.onPick = onPick;
    this.words = element.dataset;
    this.picked = "";
    this.marks = [];
    this.ended = new AbortController();
    this.#furnish(label);
    this.isDrawn = this.#open();
  }

  // Loads another floor in the place of this one; the eye stays where it is. The last one asked for is the one shown.
  async show(url) {
    this.loading?.abort();
    const loading = new AbortController();
    this.loading = loading;
    if (!this.isDrawn) return;
    try {
      const answer = await fetch(url, { signal: loading.signal, credentials: "same-origin" });
      if (!answer.ok) throw new Error(`${answer.status}`);
      const floor = await readFloor(await answer.arrayBuffer());
      if (loading.signal.aborted || this.ended.signal.aborted) return;
      this.#tell("");
      this.#take(floor);
    } catch (error) {
      if (loading.signal.aborted) return;
      this.#tell(this.words.failed ?? "");
      console.warn(`the floor in space: ${error.message}`);
    }
  }

  // Outlines what bears this mark and says its name; "" outlines nothing.
  select(mark) {
    this.picked = mark;
    if (!this.isDrawn || !this.floor) return;
    if (this.outline) release(this.outline);
    const bodies = this.floor.bodies.filter((body) => body.mark === mark);
    this.outline = outlineOf(bodies);
    this.scene.add(this.outline);
    this.said.textContent = bodies.at(-1)?.label ?? "";
    this.canvas.dataset.picked = bodies.length ? mark : "";
    this.#draw();
  }

  // Looks at everything from one of: above, front, side, corner.
  look(view) {
    if (!this.isDrawn) return;
    this.eye.look(view);
    this.#draw();
  }

  // Hides or shows one of: boards, frame, posts.
  hide(group, isHidden) {
    this.element.querySelector(`[data-group="${group}"]`).setAttribute("aria-pressed", String(!isHidden));
    if (isHidden) this.hidden.add(group);
    else this.hidden.delete(group);
    this.#veil();
  }

  get place() {
    return this.eye?.place;
  }

  dispose() {
    this.ended.abort();
    this.loading?.abort();
    this.watcher?.disconnect();
    this.eye?.dispose();
    if (this.scene) release(this.scene);
    this.renderer?.dispose();
    this.renderer?.forceContextLoss();
    this.element.replaceChildren();
    this.isDrawn = false;
  }

  #furnish(label) {
    const make = (name, className, text = "") => {
      const made = document.createElement(name);
      made.className = className;
      made.textContent = text;
      return made;
    };
    this.hidden = new Set();
    this.bar = make("div", "space-bar");
    this.bar.setAttribute("role", "group");
    this.bar.setAttribute("aria-label", label);
    const button = (word, act, data) => {
      const made = make("button", "space-button", this.words[word] ?? word);
      made.type = "button";
      Object.assign(made.dataset, data);
      made.addEventListener("click", act, { signal: this.ended.signal });
      this.bar.append(made);
      return made;
    };
    for (const view of ["corner", "above", "front", "side"]) button(view, () => this.look(view), { view });
    button("closer", () => this.eye?.come(1), { zoom: "closer" });
    button("further", () => this.eye?.come(-1), { zoom: "further" });
    for (const group of Object.keys(GROUPS)) {
      const made = button(group, () => this.hide(group, !this.hidden.has(group)), { group });
      made.setAttribute("aria-pressed", "true");
    }
    this.canvas = make("canvas", "space-picture");
    this.canvas.tabIndex = 0;
    this.canvas.setAttribute("role", "application");
    this.canvas.setAttribute("aria-label", [label, this.words.keys].filter(Boolean).join(". "));
    this.frame = make("div", "space-frame");
    this.house = make("span", "space-house", this.words.house ?? "");
    this.house.hidden = true;
    this.frame.append(this.canvas, this.house);
    this.said = make("output", "space-said");
    this.message = make("p", "space-message");
    this.message.setAttribute("role", "status");
    this.message.hidden = true;
    this.element.replaceChildren(this.bar, this.frame, this.said, this.message);
  }

  #open() {
    try {
      this.renderer = new WebGLRenderer({ canvas: this.canvas, antialias: true });
    } catch {
      this.frame.hidden = true;
      this.bar.hidden = true;
      this.#tell(this.words.missing ?? "");
      return false;
    }
    this.renderer.setClearColor(LOOK.paper);
    this.scene = new Scene();
    this.eye = new Eye(this.canvas, () => this.#draw());
    this.watcher = new ResizeObserver(() => this.#size());
    this.watcher.observe(this.frame);
    this.#size();
    this.#listen();
    return true;
  }

  #listen() {
    const on = (name, act) => this.canvas.addEventListener(name, act, { signal: this.ended.signal });
    let down = null;
    on("pointerdown", (event) => {
      down = event.isPrimary && event.button === 0 ? { x: event.clientX, y: event.clientY } : null;
    });
    on("pointerup", (event) => {
      if (!down || Math.hypot(event.clientX - down.x, event.clientY - down.y) > STILL_PX) return;
      this.#pick(this.#under(event));
    });
    on("keydown", (event) => {
      const step = { PageDown: 1, PageUp: -1 }[event.key];
      if (step) this.#pick(this.#next(step));
      else if (event.key === "Escape" && this.picked) this.#pick("");
      else if (!this.eye.answer(event)) return;
      event.preventDefault();
    });
    on("webglcontextlost", (event) => event.preventDefault());
    on("webglcontextrestored", () => this.#draw());
  }

  #take(floor) {
    const isFirst = !this.floor;
    for (const old of [this.floor?.group, this.wall]) if (old) release(old);
    this.floor = floor;
    this.marks = [...new Set(floor.bodies.map((body) => body.mark))];
    this.scene.add(floor.group);
    this.wall = null;
    if (this.words.house && floor.corners.length) {
      this.wall = wallOf(floor);
      this.scene.add(this.wall);
    }
    this.eye.holds(floor.corners);
    this.#veil();
    if (isFirst) this.eye.look("corner");
    this.select(this.picked);
  }

  // Leaves out what is hidden by the groups' buttons.
  #veil() {
    if (!this.floor) return;
    for (const [group, things] of Object.entries(GROUPS)) {
      for (const thing of things) {
        const kind = this.floor.kinds.get(thing);
        if (kind) kind.faces.visible = kind.edges.visible = !this.hidden.has(group);
      }
    }
    this.#draw();
  }

  #under(event) {
    const box = this.canvas.getBoundingClientRect();
    const at = new Vector2(
      ((event.clientX - box.left) / box.width) * 2 - 1,
      1 - ((event.clientY - box.top) / box.height) * 2,
    );
    const ray = new Raycaster();
    ray.setFromCamera(at, this.eye.camera);
    const faces = [...(this.floor?.kinds.values() ?? [])].map((kind) => kind.faces).filter((mesh) => mesh.visible);
    const [first] = ray.intersectObjects(faces, false);
    return first ? bodyAt(this.floor, first.object.userData.thing, first.faceIndex).mark : "";
  }

  #next(step) {
    const shown = new Set(
      (this.floor?.bodies ?? [])
        .filter((body) => this.floor.kinds.get(body.thing).faces.visible)
        .map((body) => body.mark),
    );
    const marks = [...shown];
    if (!marks.length) return "";
    const at = marks.indexOf(this.picked);
    return marks[at < 0 ? (step > 0 ? 0 : marks.length - 1) : (at + step + marks.length) % marks.length];
  }

  #pick(mark) {
    this.select(mark);
    this.onPick(mark);
  }

  #size() {
    const { clientWidth, clientHeight } = this.frame;
    if (!clientWidth || !clientHeight) return;
    this.renderer.setPixelRatio(Math.min(window.devicePixelRatio, MOST_DENSE));
    this.renderer.setSize(clientWidth, clientHeight, false);
    this.eye.fits(clientWidth, clientHeight);
    this.#draw();
  }

  // Draws once, at the next frame; nothing is drawn while nothing moves.
  #draw() {
    if (this.waiting || this.ended.signal.aborted) return;
    this.waiting = requestAnimationFrame(() => {
      this.waiting = 0;
      if (this.ended.signal.aborted) return;
      this.eye.clips();
      if (this.floor) thin(this.floor, (this.eye.camera.zoom * this.frame.clientHeight) / 2);
      this.renderer.render(this.scene, this.eye.camera);
      this.#name();
      this.canvas.dataset.drawn = String(Number(this.canvas.dataset.drawn ?? 0) + 1);
    });
  }

  // Keeps the name of the house beside its wall.
  #name() {
    this.house.hidden = !this.wall;
    if (!this.wall) return;
    const at = this.wall.userData.name.clone().project(this.eye.camera);
    const within = (share, size, rim) => Math.min(size - rim, Math.max(rim, share * size));
    const x = within((at.x + 1) / 2, this.frame.clientWidth, this.house.offsetWidth / 2);
    const y = within((1 - at.y) / 2, this.frame.clientHeight, this.house.offsetHeight / 2);
    this.house.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px) translate(-50%, -50%)`;
  }

  #tell(text) {
    this.message.textContent = text;
    this.message.hidden = !text;
  }
}
