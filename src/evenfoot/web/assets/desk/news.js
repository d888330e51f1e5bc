// What others do to the same job, as it happens; and that whoever looks may do so no more.

export function listen(page, { onState, onLog, onShutOut }) {
  const line = new EventSource(`/api/jobs/${page.job}/news`);
  let lines = Number(page.lines);
  const hear = (event) => {
    const head = JSON.parse(event.data);
    if (head.lines !== lines) {
      lines = head.lines;
      onLog();
    }
    if (event.type === "state") onState(head.digest);
  };
  for (const kind of ["state", "log"]) line.addEventListener(kind, hear);
  // A line that broke is opened anew by the browser; one that is refused stays closed.
  line.addEventListener("error", () => line.readyState === EventSource.CLOSED && onShutOut());
  addEventListener("pagehide", () => line.close());
}
