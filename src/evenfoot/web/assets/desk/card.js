// The card of what was pointed at: what it is, its cuts, its joints, its checks.

export async function showCard(job, mark, picture) {
  const place = document.getElementById("card");
  const answer = await fetch(`/jobs/${job}/card?mark=${encodeURIComponent(mark)}`).catch(() => null);
  if (!answer?.ok) return;
  const holder = document.createElement("template");
  holder.innerHTML = await answer.text();
  place.replaceChildren(holder.content);
  place.hidden = false;
  place.querySelector("[data-close]").addEventListener("click", () => (place.hidden = true));
  for (const other of place.querySelectorAll("[data-mark]")) {
    other.addEventListener("click", () => picture.choose(other.dataset.mark));
  }
}
