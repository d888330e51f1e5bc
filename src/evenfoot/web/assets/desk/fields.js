// The fields: what is typed goes to be kept; rows are added, taken out and pasted; a nearest value is taken at a touch.

export function watchFields(form, keeping) {
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", (event) => {
    const field = event.target;
    if (!field.name || field.closest("[data-blank], [data-ask]")) return;
    keeping.keep(field.name, field.value);
  });
  form.addEventListener("click", (event) => {
    const pressed = event.target.closest("button");
    if (!pressed) return;
    if (pressed.dataset.take) take(form, pressed, keeping);
    if (pressed.dataset.out) keeping.keep(pressed.dataset.out, null);
    if (pressed.dataset.add) add(pressed.closest("tr"), keeping);
  });
  form.addEventListener("keydown", (event) => {
    const row = event.target.closest?.("[data-blank]");
    if (event.key === "Enter" && row) {
      event.preventDefault();
      add(row, keeping);
    }
  });
  form.addEventListener("paste", (event) => paste(event, keeping));
}

function take(form, pressed, keeping) {
  const field = form.elements.namedItem(pressed.dataset.take);
  if (field) field.value = pressed.value;
  keeping.keep(pressed.dataset.take, pressed.value);
}

function cells(row) {
  return [...row.querySelectorAll(":scope > td input, :scope > td select")];
}

function add(row, keeping) {
  const typed = cells(row).map((cell) => cell.value);
  if (typed.every((one) => !one.trim())) {
    cells(row)[0]?.focus();
    return;
  }
  // A row whose list holds lists of its own (standings of the level) is set cell by cell.
  const hasInner = row.closest("[data-grid]").dataset.grid === "site.station";
  if (hasInner) keeping.keepAll(cells(row).filter((cell) => cell.value.trim()).map((cell) => [cell.name, cell.value]));
  else keeping.keep(row.dataset.row, typed);
  row.dataset.sent = "true";
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
