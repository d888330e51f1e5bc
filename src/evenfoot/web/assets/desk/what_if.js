// Variants beside the job as it is: reckoned together, told in one table, one of them taken at a touch.

const page = document.body.dataset;
const words = document.getElementById("words").dataset;
const form = document.getElementById("wishes");
const place = document.getElementById("answers");
const told = document.getElementById("saved");

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  told.textContent = words.working;
  const wanted = wishes();
  const answer = await send("variants", { variants: wanted.map(([, changes]) => changes) });
  told.textContent = answer.error ? answer.error.faults.map((fault) => fault.text).join(" ") : "";
  if (!answer.error) show(answer, wanted);
});

// The variants that have anything typed, with their column.
function wishes() {
  const found = new Map();
  for (const field of form.querySelectorAll("[data-variant]")) {
    if (!field.value.trim()) continue;
    const column = Number(field.dataset.variant);
    if (!found.has(column)) found.set(column, {});
    found.get(column)[field.dataset.where] = field.value;
  }
  return [...found].sort(([a], [b]) => a - b);
}

function show(answer, wanted) {
  const count = form.querySelectorAll("thead th").length - 2;
  const rows = answer.rows.map((row) => {
    const cells = [row.said[0], ...Array(count).fill("")];
    answer.columns.forEach((variant, index) => (cells[wanted[variant - 1][0]] = row.said[index + 1]));
    const best = new Set(row.best.map((at) => (at ? wanted[answer.columns[at - 1] - 1][0] : 0)));
    return line(row.name, cells, best);
  });
  const faults = ["", ...Array(count).fill("")];
  answer.faults.forEach((found, index) => (faults[wanted[index][0]] = found.map((fault) => fault.text).join(" ")));
  if (faults.some(Boolean)) rows.push(line("▲", faults, new Set()));
  const planned = wanted.filter((_, index) => answer.columns.includes(index + 1));
  place.replaceChildren(...rows, takers(count, planned));
}

function line(name, cells, best) {
  const row = document.createElement("tr");
  const head = document.createElement("th");
  head.scope = "row";
  head.textContent = name;
  row.append(head);
  cells.forEach((text, column) => {
    const cell = document.createElement("td");
    cell.textContent = text;
    if (best.has(column)) {
      cell.className = "best";
      const sign = document.createElement("span");
      sign.className = "unseen";
      sign.textContent = ` (${words.best})`;
      cell.append(sign);
    }
    row.append(cell);
  });
  return row;
}

function takers(count, wanted) {
  const row = line("", ["", ...Array(count).fill("")], new Set());
  for (const [column, changes] of wanted) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = words.take.replace("NUMBER", String(column));
    button.addEventListener("click", async () => {
      const answer = await send("changes", { over: page.digest, changes });
      if (answer.state) page.digest = answer.state.digest;
      told.textContent = answer.state ? words.taken : answer.error.faults.map((fault) => fault.text).join(" ");
    });
    row.children[column + 1].append(button);
  }
  return row;
}

async function send(what, body) {
  const answer = await fetch(`/api/jobs/${page.job}/${what}`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify(body),
  });
  return answer.json();
}
