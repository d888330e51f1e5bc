// Writing files: which are wanted, and where they are fetched once they are written.

import { Errand } from "./errand.js";

const fetched = document.getElementById("fetch");
const errand = new Errand({
  onBegun: () => (fetched.hidden = true),
  onOver: ({ state, token }) => {
    fetched.hidden = state !== "done";
    fetched.href = `/api/errands/${token}/files`;
  },
});

const wanted = document.getElementById("wanted");
wanted.querySelector("button").disabled = false; // before this script is here it could do nothing
wanted.addEventListener("submit", (event) => {
  event.preventDefault();
  const parts = new FormData(wanted).getAll("part");
  errand.begin(`/api/jobs/${document.body.dataset.job}/errands`, { parts });
});
