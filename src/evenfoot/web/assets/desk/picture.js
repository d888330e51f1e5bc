// The drawing beside the fields: which one is shown, and what on it is pointed at.

export function watchPicture(parts) {
  const leaves = document.querySelector(".leaves");
  leaves.addEventListener("click", (event) => {
    const leaf = event.target.closest("a[data-drawing]");
    if (!leaf) return;
    event.preventDefault();
    show(parts, leaves, leaf.dataset.drawing);
  });
  document.getElementById("findings").addEventListener("click", (event) => {
    const finding = event.target.closest(".finding");
    if (finding) point(finding);
  });
}

function show(parts, leaves, name) {
  parts.drawing = document.body.dataset.drawing = name;
  for (const leaf of leaves.querySelectorAll("a")) {
    if (leaf.dataset.drawing === name) leaf.setAttribute("aria-current", "true");
    else leaf.removeAttribute("aria-current");
  }
  history.replaceState(null, "", `?drawing=${encodeURIComponent(name)}`);
  parts.refresh();
}

/** Show on the drawing what a finding is about. */
function point(finding) {
  for (const one of document.querySelectorAll(".finding[aria-pressed]")) one.removeAttribute("aria-pressed");
  finding.setAttribute("aria-pressed", "true");
  const marks = new Set(`${finding.dataset.subject} ${finding.dataset.place}`.split(/[\s,]+/).filter(Boolean));
  for (const group of document.querySelectorAll("#picture [data-member]")) {
    group.classList.toggle("is-chosen", marks.has(group.dataset.member) || marks.has(group.dataset.member.split(".")[0]));
  }
}
