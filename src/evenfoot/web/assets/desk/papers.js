// Writing files: begun, told how far it is, stopped, fetched.

const job = document.body.dataset.job;
const box = document.getElementById("errand");
const told = box.querySelector(".stage");
const fetched = document.getElementById("fetch");
const stop = document.getElementById("stop");
let token = null;

const wanted = document.getElementById("wanted");
wanted.querySelector("button").disabled = false; // before this script is here it could do nothing
wanted.addEventListener("submit", async (event) => {
  event.preventDefault();
  const parts = new FormData(event.target).getAll("part");
  const answer = await fetch(`/api/jobs/${job}/errands`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ parts }),
  });
  show(await answer.json());
});

stop.addEventListener("click", async () => {
  if (token) show(await (await fetch(`/api/errands/${token}`, { method: "DELETE" })).json());
});

function show(errand) {
  box.hidden = false;
  if (errand.error) {
    told.textContent = errand.error.faults.map((fault) => fault.text).join(" ");
    return;
  }
  token = errand.token;
  const isOver = ["done", "stopped", "wrong"].includes(errand.state);
  told.textContent = errand.faults.length ? errand.faults.map((fault) => fault.text).join(" ") : errand.stage;
  stop.hidden = isOver;
  fetched.hidden = errand.state !== "done";
  if (errand.state === "done") fetched.href = `/api/errands/${token}/files`;
  if (!isOver) setTimeout(() => ask(errand.token), 400);
}

async function ask(asked) {
  if (asked === token) show(await (await fetch(`/api/errands/${token}`)).json());
}
