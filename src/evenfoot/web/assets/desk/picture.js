// The drawing beside the fields: which one is shown, flat or in space, what on it is pointed at, dragged or tapped.

import { watchDrawing } from "./drawing.js";
import { showSpace } from "./space.js";

const IN_SPACE = "space";

export function watchPicture(parts, { onMember, onDrag, onTap }) {
  const picture = new Picture(parts, { onMember, onDrag, onTap });
  const leaves = document.querySelector(".leaves");
  leaves.addEventListener("click", (event) => {
    const leaf = event.target.closest("a[data-drawing]");
    if (!leaf) return;
    event.preventDefault();
    picture.turnTo(leaf.dataset.drawing, leaves);
  });
  document.getElementById("findings").addEventListener("click", (event) => {
    const finding = event.target.closest(".finding");
    if (finding) picture.pointAt(finding);
  });
  parts.onPicture = (told) => picture.follow(told.hold);
  picture.follow(JSON.parse(document.getElementById("hold").textContent));
  return picture;
}

class Picture {
  constructor(parts, { onMember, onDrag, onTap }) {
    Object.assign(this, { parts, onMember, onTap });
    this.flat = document.getElementById("picture");
    this.room = document.getElementById("space");
    this.drawing = watchDrawing(this.flat, { onPick: (mark) => mark && this.choose(mark), onDrag });
    this.flat.addEventListener("click", (event) => this.#tap(event), { capture: true });
    this.tapping = document.getElementById("tap");
    this.tapping?.addEventListener("click", () => this.#setTapping(this.tapping.ariaPressed !== "true"));
  }

  turnTo(name, leaves) {
    this.parts.drawing = document.body.dataset.drawing = name;
    for (const leaf of leaves.querySelectorAll("a")) {
      if (leaf.dataset.drawing === name) leaf.setAttribute("aria-current", "true");
      else leaf.removeAttribute("aria-current");
    }
    history.replaceState(null, "", `?drawing=${encodeURIComponent(name)}`);
    this.parts.refresh();
  }

  // Shows what belongs to the plan that stands now.
  async follow(hold) {
    const isInSpace = this.parts.drawing === IN_SPACE;
    this.flat.hidden = isInSpace;
    this.room.hidden = !isInSpace;
    if (!isInSpace) {
      this.drawing.renew(hold);
      return;
    }
    const url = `/api/jobs/${this.parts.job}/floor.glb?state=${document.body.dataset.digest}`;
    if (this.space) await this.space.show(url);
    else this.space = await showSpace(this.room, { url, onPick: (mark) => mark && this.choose(mark) });
  }

  choose(mark) {
    this.#mark([mark]);
    this.onMember(mark);
  }

  // Shows on the drawing what a finding is about.
  pointAt(finding) {
    for (const one of document.querySelectorAll(".finding[aria-pressed]")) one.removeAttribute("aria-pressed");
    finding.setAttribute("aria-pressed", "true");
    this.#mark((finding.dataset.marks ?? "").split(" ").filter(Boolean));
  }

  #mark(marks) {
    this.drawing.select(marks);
    if (this.space && marks.length) this.space.select(marks[0]);
  }

  #setTapping(isOn) {
    this.tapping.ariaPressed = String(isOn);
    this.flat.classList.toggle("is-tapped", isOn);
  }

  // A place of the real floor, where readings are put on the drawing.
  #tap(event) {
    if (!this.flat.classList.contains("is-tapped")) return;
    const view = this.drawing.views.find((one) => one.svg.contains(event.target));
    if (!view?.isReal) return;
    event.stopPropagation();
    this.#setTapping(false);
    this.onTap(view.real(view.paper(event)));
  }
}
