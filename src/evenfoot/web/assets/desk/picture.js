// The drawing beside the fields: which one is shown, flat or in space, and what on it is pointed at.

import { showSpace } from "./space.js";

const IN_SPACE = "space";

export function watchPicture(parts, onMember) {
  const picture = new Picture(parts, onMember);
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
  parts.onPicture = () => picture.follow();
  picture.follow();
  return picture;
}

class Picture {
  constructor(parts, onMember) {
    this.parts = parts;
    this.onMember = onMember;
    this.flat = document.getElementById("picture");
    this.room = document.getElementById("space");
    this.marks = new Set();
    this.flat.addEventListener("click", (event) => {
      const group = event.target.closest("[data-member]");
      if (group) this.choose(group.dataset.member);
    });
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
  async follow() {
    const isInSpace = this.parts.drawing === IN_SPACE;
    this.flat.hidden = isInSpace;
    this.room.hidden = !isInSpace;
    this.#mark();
    if (!isInSpace) return;
    const url = `/api/jobs/${this.parts.job}/floor.glb?state=${document.body.dataset.digest}`;
    if (this.space) await this.space.show(url);
    else this.space = await showSpace(this.room, { url, onPick: (mark) => mark && this.choose(mark) });
  }

  choose(mark) {
    this.marks = new Set([mark]);
    this.#mark();
    this.onMember(mark);
  }

  // Shows on the drawing what a finding is about.
  pointAt(finding) {
    for (const one of document.querySelectorAll(".finding[aria-pressed]")) one.removeAttribute("aria-pressed");
    finding.setAttribute("aria-pressed", "true");
    this.marks = new Set((finding.dataset.marks ?? "").split(" ").filter(Boolean));
    this.#mark();
    if (this.space && this.marks.size) this.space.select([...this.marks][0]);
  }

  #mark() {
    for (const group of this.flat.querySelectorAll("[data-member]")) {
      group.classList.toggle("is-chosen", this.marks.has(group.dataset.member));
    }
  }
}
