// The texts themselves, kept as they stand.

const page = document.body.dataset;
const words = document.getElementById("words").dataset;
const saved = document.getElementById("saved");

document.getElementById("texts").addEventListener("submit", async (event) => {
  event.preventDefault();
  saved.textContent = words.saving;
  const answer = await fetch(`/api/jobs/${page.job}/texts`, {
    method: "PUT",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({
      over: page.digest,
      job_text: textOf("job-text"),
      shop_text: textOf("shop-text"),
    }),
  }).catch(() => null);
  if (answer?.ok) {
    location.reload();
    return;
  }
  const told = answer ? await answer.json() : null;
  saved.textContent = told?.error ? told.error.faults.map((fault) => fault.text).join(" ") : words.unsent;
});

// A browser keeps line ends as bare newlines; a file that had others gets them back.
function textOf(id) {
  const field = document.getElementById(id);
  return "crlf" in field.dataset ? field.value.replace(/\n/g, "\r\n") : field.value;
}
