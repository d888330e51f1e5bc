// What others do to the same job, as it happens.

export function listen(job, tell) {
  const line = new EventSource(`/api/jobs/${job}/news`);
  line.addEventListener("state", (event) => tell(JSON.parse(event.data).digest));
  addEventListener("pagehide", () => line.close());
}
