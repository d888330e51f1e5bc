// What would cure it: sought as long work, shown as it comes, taken over as an edit like any other.

import { Errand } from "./errand.js";

const page = document.body.dataset;
const words = document.getElementById("words").dataset;
const place = document.getElementById("found");
const taken = document.getElementById("taken");
const seek = document.getElementById("seek");

const errand = new Errand({
  onBegun: () => {
    place.replaceChildren();
    taken.replaceChildren();
  },
  onOver: async ({ state, token }) => {
    if (state === "stopped") return;
    const answer = await fetch(`/jobs/${page.job}/remedies/${token}`);
    if (!answer.ok) return;
    const holder = document.createElement("template");
    holder.innerHTML = await answer.text();
    if (!("mayEdit" in page)) holder.content.querySelectorAll("[data-changes]").forEach((button) => button.remove());
    place.replaceChildren(holder.content);
  },
});
seek.disabled = false;
seek.addEventListener("click", () => errand.begin(`/api/jobs/${page.job}/remedies`));

place.addEventListener("click", async (event) => {
  const pressed = event.target.closest("[data-changes]");
  if (!pressed) return;
  const [changes, labels] = [pressed.dataset.changes, pressed.dataset.labels].map((text) => JSON.parse(text));
  const over = place.querySelector("[data-over]").dataset.over;
  const told = await send("changes", { over, changes });
  if (!told?.state || told.clashes.length) {
    tell(told?.clashes?.map((clash) => said(clash, labels)).join(" ") || faultsOf(told) || words.unsent);
    return;
  }
  const undo = document.createElement("button");
  undo.type = "button";
  undo.textContent = words.undo;
  undo.addEventListener("click", async () => {
    const back = await send("undo", {});
    tell(back?.digest ? words.undone : faultsOf(back) || words.unsent);
  });
  const see = document.createElement("a");
  see.href = `/jobs/${page.job}/at/${pressed.dataset.station}`;
  see.textContent = words.see;
  tell(words.taken, see, undo);
});

function tell(text, ...ways) {
  const line = document.createElement("p");
  line.className = "row";
  line.append(text, ...ways);
  taken.replaceChildren(line);
}

function said({ where, theirs, mine }, labels) {
  return `${labels[where] ?? where}: ${words.clash.replace("THEIRS", theirs || "–").replace("MINE", mine || "–")}`;
}

function faultsOf(told) {
  return told?.error?.faults.map((fault) => fault.text).join(" ");
}

async function send(what, body) {
  const headers = { "Content-Type": "application/json" };
  const asked = { method: "POST", headers, body: JSON.stringify(body) };
  return (await fetch(`/api/jobs/${page.job}/${what}`, asked).catch(() => null))?.json().catch(() => null);
}
