// The fields: what is typed goes to be kept; rows are added, taken out and pasted; a nearest value is taken at a touch.

export function watchFields(form, keeping) {
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", (event) => {
    const field = event.target;
    if (!field.name || field.closest("[data-blank]")) return;
    keeping.keep(field.name, field.value, shown(field));
  });
  form.addEventListener("click", (event) => {
    const pressed = event.target.closest("button");
    if (!pressed) return;
    if (pressed.dataset.take) take(form, pressed, keeping);
    if (pressed.dataset.out) takeOut(pressed.closest("tr"), keeping);
    if (pressed.dataset.add) add(pressed.closest("tr"), keeping);
  });
  form.addEventListener("keydown", (event) => {
    const row = event.target.closest?.("[data-blank]");
    if (event.key === "Enter" && row && event.target.matches("input, select")) {
      event.preventDefault();
      add(row, keeping);
    }
  });
  form.addEventListener("paste", (event) => paste(event, keeping));
}

/** What a field showed when the page was written. */
function shown(field) {
  if (field.localName !== "select") return field.defaultValue;
  return [...field.options].find((option) => option.defaultSelected)?.value ?? "";
}

function take(form, pressed, keeping) {
  const field = form.elements.namedItem(pressed.dataset.take);
  const seen = field ? shown(field) : undefined;
  if (field) field.value = pressed.value;
  keeping.keep(pressed.dataset.take, pressed.value, seen);
  field?.focus();
}

function cells(row) {
  return [...row.querySelectorAll(":scope > td input, :scope > td select")];
}

/** A row stands as typed at once, and a blank one follows it, so that the next can be typed without waiting. */
function add(row, keeping) {
  const typed = cells(row).map((cell) => cell.value);
  if (typed.every((one) => !one.trim())) {
    cells(row)[0]?.focus();
    return;
  }
  const blank = row.cloneNode(true);
  for (const cell of cells(blank)) cell.value = "";
  renumber(blank, row.dataset.row, 1);
  keeping.keep(row.dataset.row, typed);
  settle(row, typed);
  row.after(blank);
  cells(blank)[typed.findIndex((one) => one.trim())].focus();
}

function settle(row, typed) {
  row.classList.remove("blank");
  delete row.dataset.blank;
  row.querySelector("[data-add]")?.remove();
  cells(row).forEach((cell, at) => {
    if (cell.localName === "input") cell.defaultValue = typed[at];
    else for (const option of cell.options) option.defaultSelected = option.value === typed[at];
  });
}

/** Take a row out; the rows after it count one less at once. */
function takeOut(row, keeping) {
  const seen = cells(row).map(shown).filter((one) => one.trim()).join(", ");
  keeping.keep(row.dataset.row, null, cells(row).some((cell) => cell.value !== shown(cell)) ? undefined : seen);
  const inner = row.nextElementSibling?.matches(".inner") ? row.nextElementSibling : null;
  let next = (inner ?? row).nextElementSibling;
  next?.querySelector("[data-out], input")?.focus();
  for (let place = row.dataset.row; next; next = next.nextElementSibling) {
    place = next.dataset.row ?? place;
    renumber(next, place, -1);
  }
  inner?.remove();
  row.remove();
}

/** Let every name within a row speak of the place that is `by` further. */
function renumber(row, old, by) {
  const place = old.replace(/\[(\d+)\]$/, (_, index) => `[${Number(index) + by}]`);
  for (const one of [row, ...row.querySelectorAll("*")]) {
    for (const attribute of [...one.attributes]) {
      if (attribute.value.includes(old)) one.setAttribute(attribute.name, attribute.value.replaceAll(old, place));
    }
  }
}

/** A block from a spreadsheet fills rows from the cell on; rows past the end are added. */
function paste(event, keeping) {
  const cell = event.target.closest?.(".grid input");
  const text = event.clipboardData?.getData("text/plain") ?? "";
  if (!cell || !/[\t\n]/.test(text.trim())) return;
  event.preventDefault();
  const table = cell.closest("table");
  const rows = [...table.querySelectorAll(":scope > tbody > tr[data-row]")];
  const first = rows.indexOf(cell.closest("tr"));
  const column = cells(rows[first]).indexOf(cell);
  const grid = cell.closest("[data-grid]").dataset.grid;
  const block = text.replace(/\r/g, "").replace(/\n+$/, "").split("\n").map((line) => line.split("\t"));
  keeping.keepAll(
    block.map((line, index) => {
      const row = rows[Math.min(first + index, rows.length - 1)];
      const isNew = first + index >= rows.length - 1;
      const typed = cells(row).map((one) => (isNew ? "" : one.value));
      line.forEach((one, at) => {
        if (column + at < typed.length) typed[column + at] = one.trim();
      });
      return [`${grid}[${first + index}]`, typed];
    }),
  );
}
