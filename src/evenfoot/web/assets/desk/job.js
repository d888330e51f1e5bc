// One station of a job: what is typed is kept at once, and the drawing follows.

import { Keeping } from "./keeping.js";
import { watchFields } from "./fields.js";
import { Parts } from "./parts.js";
import { watchPicture } from "./picture.js";
import { listen } from "./news.js";
import { watchAsking } from "./asking.js";
import { showCard } from "./card.js";

const page = document.body.dataset;
const words = document.getElementById("words").dataset;
const saved = document.getElementById("saved");

const parts = new Parts({
  job: page.job,
  station: page.station,
  drawing: page.drawing,
  isTyping: () => keeping.isBusy,
});
const keeping = new Keeping({
  job: page.job,
  digest: page.digest,
  onState: (state) => {
    if (state.digest === page.digest) return;
    page.digest = state.digest;
    parts.refresh();
  },
  onProgress: (step, wrong) => {
    saved.textContent = wrong ?? words[step] ?? "";
    saved.classList.toggle("unsent", step === "unsent");
    if (step === "saved") parts.catchUp();
  },
  onClashes: showClashes,
});

watchFields(document.getElementById("form"), keeping);
const picture = watchPicture(parts, {
  onMember: (mark) => showCard(page.job, mark, picture),
  onDrag: ({ kind, id, to_mm }) => keeping.drag({ kind, id, to_mm }),
  onTap: placeReading,
});
parts.onState = (state) => {
  shown.add(state.digest);
  page.digest = state.digest;
  keeping.digest = state.digest;
  document.getElementById("undo").disabled = !state.can_undo;
  document.getElementById("redo").disabled = !state.can_redo;
};
parts.onForm = () => keeping.forgetTyped();
for (const turn of ["undo", "redo"]) {
  document.getElementById(turn).addEventListener("click", () => keeping.turn(turn));
}
document.addEventListener("keydown", (event) => {
  if (!event.ctrlKey || !event.altKey) return;
  if (event.key === "z") keeping.turn("undo");
  if (event.key === "y") keeping.turn("redo");
});
listen(page, { onState: follow, onLog: () => parts.refresh(), onShutOut: tellShutOut });
watchAsking(document.getElementById("site"), page.job, () => parts.refresh());
document.querySelector("[data-stage]")?.addEventListener("change", (event) => keeping.stage(event.target.value));
keeping.sendLeftOver();
document.getElementById(decodeURIComponent(location.hash.slice(1)))?.focus(); // whoever came for a field stands in it

// A state is another's when this page neither made it nor ever showed it.
const shown = new Set([page.digest]);
function tellOther(digest) {
  if (!keeping.isOwn(digest) && !shown.has(digest)) saved.textContent = words.other;
}

async function follow(digest) {
  await new Promise((done) => setTimeout(done, 250)); // our own change is told to us as well
  await keeping.settled();
  if (digest === page.digest) return;
  tellOther(digest);
  parts.refresh();
}

// Signed out, or taken from the list: what is typed stays on this device until somebody signs in again.
async function tellShutOut() {
  const answer = await fetch(`/api/jobs/${page.job}`).catch(() => null);
  if (answer?.status !== 401) return;
  const way = document.createElement("a");
  way.href = location.href.split("#")[0];
  way.textContent = words.signIn;
  const told = document.createElement("p");
  told.className = "wrong";
  told.append(words.shutOut, " ", way);
  document.getElementById("clashes").prepend(told);
}

// A reading is begun where the drawing was tapped: its place is filled in, its height is asked for.
function placeReading({ x, y }) {
  const grids = [...document.querySelectorAll('[data-grid$="readings"], [data-grid="site.levels"]')];
  const grid = grids.find((one) => one.dataset.grid.endsWith("readings")) ?? grids[0];
  const row = grid?.querySelector("tr[data-blank]");
  if (!row) return;
  const cell = (name) => row.querySelector(`[name$=".${name}"]`);
  cell("x").value = `${Math.round(x)} mm`;
  cell("y").value = `${Math.round(y)} mm`;
  (cell("rod") ?? cell("z")).focus();
}

function showClashes(clashes) {
  const place = document.getElementById("clashes");
  place.replaceChildren(
    ...clashes.map((clash) => {
      const box = document.createElement("div");
      box.className = "clash";
      const told = document.createElement("p");
      const label = document.querySelector(`label[for="f-${CSS.escape(clash.where)}"]`)?.textContent;
      const cell = document.getElementById(`f-${clash.where}`)?.getAttribute("aria-label");
      const said = words.clash.replace("THEIRS", clash.theirs || "–").replace("MINE", clash.mine || "–");
      told.textContent = `${label ?? cell ?? clash.where}: ${said}`;
      const leave = button(words.theirs, () => box.remove());
      const put = button(words.mine, () => {
        box.remove();
        keeping.keep(clash.where, clash.mine, clash.theirs);
      });
      box.append(told, leave);
      // What belonged to a row that somebody took out or wrote anew has no place to be put into.
      if (!clash.where.endsWith("]") && (clash.theirs || !clash.where.includes("["))) box.append(" ", put);
      return box;
    }),
  );
}

function button(text, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = text;
  made.addEventListener("click", act);
  return made;
}
