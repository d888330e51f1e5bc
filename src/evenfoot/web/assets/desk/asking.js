// Questions on site from the desk: readings typed beside their marks, the answer above them.

const kept = new Map(); // answers by question, so that a fresh form still shows them

export function watchAsking(place, job, onAdded) {
  place.addEventListener("click", (event) => {
    const pressed = event.target.closest("button[data-act]");
    if (pressed) ask(pressed.closest("[data-ask]"), job, onAdded, pressed.dataset.act === "sure");
  });
  place.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.target.tagName !== "INPUT") return;
    event.preventDefault();
    ask(event.target.closest("[data-ask]"), job, onAdded, false);
  });
  new MutationObserver(() => place.querySelectorAll("[data-ask]").forEach(again)).observe(place, { childList: true });
}

async function ask(box, job, onAdded, isSure) {
  const what = box.dataset.ask;
  const answer = await fetch(`/api/jobs/${job}/asks`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ what, typed: typed(box), is_sure: isSure }),
  }).catch(() => null);
  if (!answer) return;
  const told = await answer.json();
  if (answer.ok) {
    kept.set(what, { lines: told.lines, detail: told.detail, isFine: told.is_fine, asksSure: false });
    box.querySelectorAll("input[data-name]").forEach((field) => {
      if (field.type === "checkbox") field.checked = false;
      else field.value = "";
    });
  } else {
    const faults = told.error.faults;
    const asksSure = faults.some((fault) => fault.code === "reading-doubtful");
    kept.set(what, { lines: faults.map((fault) => fault.text), detail: [], isFine: false, asksSure });
  }
  again(box);
  if (answer.ok && told.added) onAdded();
}

function typed(box) {
  const row = box.querySelector("[data-row-number]")?.value.trim();
  const out = {};
  for (const field of box.querySelectorAll("input[data-name]")) {
    const isTick = field.type === "checkbox";
    if (isTick ? !field.checked : !field.value.trim()) continue;
    out[field.dataset.name] ??= {};
    out[field.dataset.name][field.dataset.mark || row || ""] = field.value;
  }
  return out;
}

function again(box) {
  const told = kept.get(box.dataset.ask);
  if (!told) return;
  const place = box.querySelector(".answer");
  const lines = told.lines.map((text, index) => element(index ? "p" : "strong", text));
  const detail = told.detail.length ? [element("ul", "", told.detail.map((text) => element("li", text)))] : [];
  place.replaceChildren(...lines, ...detail);
  place.classList.toggle("is-short", !told.isFine);
  box.querySelector('[data-act="sure"]').hidden = !told.asksSure;
}

function element(tag, text, children = []) {
  const made = document.createElement(tag);
  if (text) made.textContent = text;
  made.append(...children);
  return made;
}
