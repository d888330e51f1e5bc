// What was typed is kept: at once here, then in the store; nothing is dropped until the store has it.

const POST = { method: "POST", headers: { "Content-Type": "application/json" } };
const LONGEST_WAIT = 15000;
const OWN_FOR = 30000;

export class Keeping {
  constructor({ job, digest, onState, onProgress, onClashes }) {
    Object.assign(this, { job, digest, onState, onProgress, onClashes });
    this.place = `evenfoot-left-over-${job}-${crypto.randomUUID?.() ?? Math.random()}`;
    // Batches in the order in which they were typed. Rows added or taken out have one of their own, since the places
    // after it count by it.
    this.queue = [];
    this.isSending = false;
    this.wait = 1000;
    this.own = new Map();
    // What an earlier page of this job had on its way may come in just now: then it was nobody else.
    this.arriving = this.#leftOver().length ? Date.now() + OWN_FOR : 0;
    this.typedHere = new Map();
    addEventListener("online", () => this.#send());
  }

  /** Whether this page, or the one before it, brought a state about just now. */
  isOwn(digest) {
    const now = Date.now();
    return now < this.arriving || now - (this.own.get(digest) ?? 0) < OWN_FOR;
  }

  get isBusy() {
    return this.isSending || this.queue.length > 0;
  }

  /** Keep one place as typed (a text, a row of texts, or null for a row taken out) over what was `seen` there. */
  keep(where, typed, seen) {
    this.keepAll([[where, typed, seen]]);
  }

  keepAll(changes) {
    const isRows = changes.some(([, typed]) => typeof typed !== "string");
    let batch = this.queue.at(-1);
    if (!batch || isRows || batch.isRows || batch.isSent) {
      batch = { isRows, over: this.queue.length ? null : this.digest, changes: {}, seen: {} };
      this.queue.push(batch);
    }
    for (const [where, typed, seen] of changes) {
      const stood = this.typedHere.get(where) ?? seen;
      if (!(where in batch.changes) && stood !== undefined) batch.seen[where] = stood;
      batch.changes[where] = typed;
      if (typeof typed === "string") this.typedHere.set(where, typed);
    }
    this.#remember();
    this.#send();
  }

  /** The fields were written anew: what they show is what stands. */
  forgetTyped() {
    this.typedHere.clear();
  }

  /** Move what was dragged on a plan, once all that was typed is kept. */
  async drag(move) {
    await this.settled();
    const body = JSON.stringify({ over: this.digest, ...move });
    const answer = await fetch(`/api/jobs/${this.job}/drags`, { ...POST, body }).catch(() => null);
    if (!answer?.ok) return;
    const told = await answer.json();
    if (told.clashes.length) this.onClashes(told.clashes);
    this.#take(told.state);
  }

  /** Say where the job stands. */
  async stage(stage) {
    this.onProgress("saving");
    const answer = await fetch(`/api/jobs/${this.job}`, {
      method: "PATCH",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ stage }),
    }).catch(() => null);
    this.onProgress(answer?.ok ? "saved" : "unsent");
  }

  /** Undo or redo, once all that was typed is kept. */
  async turn(name) {
    await this.settled();
    const answer = await fetch(`/api/jobs/${this.job}/${name}`, { method: "POST" }).catch(() => null);
    if (answer?.ok) this.#take(await answer.json());
  }

  /** Send what an earlier page of this job could not send, such as when the power went. */
  sendLeftOver() {
    for (const key of this.#leftOver()) {
      const kept = read(key);
      if (kept?.at > Date.now() - 5000) {
        setTimeout(() => this.sendLeftOver(), 5000); // its page may still be open and about to send it
        continue;
      }
      localStorage.removeItem(key);
      for (const { isRows, over, changes, seen } of kept?.queue ?? []) {
        this.queue.push({ isRows, over, changes, seen, isSent: true });
      }
    }
    this.#remember();
    this.#send();
  }

  #leftOver() {
    const ours = `evenfoot-left-over-${this.job}-`;
    return Object.keys(localStorage).filter((key) => key.startsWith(ours) && key !== this.place);
  }

  #remember() {
    if (this.queue.length) {
      localStorage.setItem(this.place, JSON.stringify({ at: Date.now(), queue: this.queue }));
    } else {
      localStorage.removeItem(this.place);
    }
  }

  async settled() {
    while (this.isBusy) await new Promise((done) => setTimeout(done, 50));
  }

  async #send() {
    const batch = this.queue[0];
    if (this.isSending || !batch) return;
    this.isSending = batch.isSent = true;
    batch.over ??= this.digest;
    this.onProgress("saving");
    const answer = await this.#post(batch);
    this.isSending = false;
    if (!answer) {
      this.#remember();
      this.onProgress("unsent");
      setTimeout(() => this.#send(), this.wait);
      this.wait = Math.min(this.wait * 2, LONGEST_WAIT);
      return;
    }
    this.wait = 1000;
    this.queue.shift();
    this.#remember();
    if (answer.clashes?.length) {
      for (const clash of answer.clashes) this.typedHere.delete(clash.where);
      this.onClashes(answer.clashes);
    }
    if (answer.state) this.#take(answer.state);
    if (!this.queue.length) this.onProgress(answer.error ? "unsent" : "saved", answer.error);
    this.#send();
  }

  #take(state) {
    this.own.set(state.digest, Date.now());
    this.digest = state.digest;
    this.onState(state);
  }

  /** Returns the answer, or what was wrong with the batch; null when it should be tried again. */
  async #post({ over, changes, seen }) {
    try {
      const body = JSON.stringify({ over, changes, seen });
      const answer = await fetch(`/api/jobs/${this.job}/changes`, { ...POST, body });
      if (answer.ok) return await answer.json();
      const mayPass = answer.status >= 500 || [401, 409, 429].includes(answer.status);
      return mayPass ? null : { error: (await answer.json()).error.faults.map((fault) => fault.text).join(" ") };
    } catch {
      return null;
    }
  }
}

function read(key) {
  try {
    return JSON.parse(localStorage.getItem(key));
  } catch {
    return null;
  }
}
