// What others do to the same job, as it happens.

export function listen(job, { onState, onLog }) {
  const line = new EventSource(`/api/jobs/${job}/news`);
  line.addEventListener("state", (event) => onState(JSON.parse(event.data).digest));
  line.addEventListener("log", () => onLog());
  addEventListener("pagehide", () => line.close());
}
