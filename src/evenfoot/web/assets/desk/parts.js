// The parts of the page that follow what is typed. An older answer is dropped for a newer one.

export class Parts {
  constructor({ job, station, drawing, isTyping }) {
    Object.assign(this, { job, station, drawing, isTyping });
    this.seat = crypto.randomUUID?.() ?? String(Math.random());
    this.onState = () => {};
    this.onPicture = () => {};
    this.onForm = () => {};
    this.isBehind = false;
    this.findings = document.getElementById("findings");
    // What passes is fetched when somebody opens it. A toggle does not rise, so it is caught on its way down.
    this.findings.addEventListener("toggle", (event) => this.#open(event.target), { capture: true });
  }

  #open(group) {
    if (group.open && "untold" in group.dataset) this.refresh();
  }

  /** Fetch once more what could not be shown while something typed was on its way. */
  catchUp() {
    if (this.isBehind) this.refresh();
  }

  async refresh() {
    this.stop?.abort();
    const stop = (this.stop = new AbortController());
    const asked = new URLSearchParams({ drawing: this.drawing, seat: this.seat });
    if (this.findings.querySelector('details[data-kind="fine"]')?.open) asked.set("fine", "true");
    let answer;
    try {
      answer = await fetch(`/jobs/${this.job}/at/${this.station}/parts?${asked}`, { signal: stop.signal });
      if (answer.status !== 200) return;
      this.#show(await answer.json());
    } catch (error) {
      if (error.name !== "AbortError") setTimeout(() => stop === this.stop && this.refresh(), 2000);
    }
  }

  #show(told) {
    // Fields are written anew only when all that was typed in them is kept.
    this.isBehind = this.isTyping();
    if (!this.isBehind) {
      this.onState(told);
      swapForm(document.getElementById("fields"), told.parts.form);
      swapForm(document.getElementById("site"), told.parts.site);
      this.onForm();
    }
    for (const name of ["facts", "findings"]) swap(document.getElementById(name), told.parts[name]);
    const drawing = document.querySelector(".drawing");
    drawing.classList.toggle("is-stale", !told.plans);
    document.getElementById("stale").hidden = told.plans;
    if (told.plans) {
      swap(document.getElementById("picture"), told.parts.picture);
      this.onPicture(told);
    }
    document.querySelector(".head .job").textContent = told.name;
  }
}

function parsed(html) {
  const holder = document.createElement("template");
  holder.innerHTML = html;
  return holder.content;
}

function swap(place, html) {
  const open = new Map([...place.querySelectorAll("details")].map((one) => [one.dataset.kind, one.open]));
  place.replaceChildren(parsed(html));
  for (const one of place.querySelectorAll("details")) one.open = open.get(one.dataset.kind) ?? one.open;
}

/** Put the new form in place of the old; the field at hand keeps its text, its caret and the focus. */
function swapForm(place, html) {
  const here = document.activeElement;
  const typed = place.contains(here) && here.name ? { name: here.name, value: here.value, ...caret(here) } : null;
  const blanks = place.querySelectorAll("tr[data-blank] :is(input, select)");
  const drafts = [...blanks].map((one) => [one.name, one.value]);
  place.replaceChildren(parsed(html));
  const form = place.closest("form");
  for (const [name, value] of drafts) {
    const field = form.elements.namedItem(name);
    if (value && field && !field.value) field.value = value;
  }
  const field = typed && form.elements.namedItem(typed.name);
  if (!field) return;
  const isSame = typed.value.normalize("NFKC").trim() === field.value;
  if (isSame && field.localName === "input") field.value = typed.value;
  field.focus({ preventScroll: true });
  if (typed.from !== null && field.type === "text") field.setSelectionRange(typed.from, typed.to);
}

function caret(field) {
  const isText = field.type === "text";
  return { from: isText ? field.selectionStart : null, to: isText ? field.selectionEnd : null };
}
