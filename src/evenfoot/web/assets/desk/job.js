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

const parts = new Parts({ job: page.job, station: page.station, drawing: page.drawing });
const keeping = new Keeping({
  job: page.job,
  digest: page.digest,
  onState: (state) => {
    if (state.digest === page.digest) return;
    page.digest = state.digest;
    parts.refresh();
  },
  onProgress: (step) => {
    saved.textContent = words[step] ?? "";
    saved.classList.toggle("unsent", step === "unsent");
  },
  onClashes: showClashes,
});

watchFields(document.getElementById("form"), keeping);
const picture = watchPicture(parts, (mark) => showCard(page.job, mark, picture));
parts.onState = (state) => {
  page.digest = state.digest;
  keeping.digest = state.digest;
  document.getElementById("undo").disabled = !state.can_undo;
  document.getElementById("redo").disabled = !state.can_redo;
};
for (const turn of ["undo", "redo"]) {
  document.getElementById(turn).addEventListener("click", () => keeping.turn(turn));
}
document.addEventListener("keydown", (event) => {
  if (!event.ctrlKey || !event.altKey) return;
  if (event.key === "z") keeping.turn("undo");
  if (event.key === "y") keeping.turn("redo");
});
listen(page.job, { onState: follow, onLog: () => parts.refresh() });
watchAsking(document.getElementById("site"), page.job, () => parts.refresh());
keeping.sendLeftOver();

async function follow(digest) {
  await new Promise((done) => setTimeout(done, 250)); // our own change is told to us as well
  await keeping.settled();
  if (digest === page.digest || keeping.isOwn(digest)) return;
  keeping.digest = page.digest = digest;
  saved.textContent = words.other;
  parts.refresh();
}

function showClashes(clashes) {
  const place = document.getElementById("clashes");
  place.replaceChildren(
    ...clashes.map((clash) => {
      const box = document.createElement("div");
      box.className = "clash";
      const told = document.createElement("p");
      const label = document.querySelector(`label[for="f-${CSS.escape(clash.where)}"]`);
      const said = words.clash.replace("THEIRS", clash.theirs || "–").replace("MINE", clash.mine || "–");
      told.textContent = `${label ? label.textContent : clash.where}: ${said}`;
      const leave = button(words.theirs, () => box.remove());
      const put = button(words.mine, () => {
        box.remove();
        keeping.keep(clash.where, clash.mine);
      });
      box.append(told, leave, " ", put);
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
