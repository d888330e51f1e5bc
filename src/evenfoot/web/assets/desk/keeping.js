// What was typed is kept: at once here, then in the store; nothing is dropped until the store has it.

export class Keeping {
  constructor({ job, digest, onState, onProgress, onClashes }) {
    Object.assign(this, { job, digest, onState, onProgress, onClashes });
    this.place = `evenfoot-left-over-${job}-${crypto.randomUUID?.() ?? Math.random()}`;
    this.waiting = new Map();
    this.isSending = false;
    this.wait = 1000;
    this.own = new Map();
  }

  /** Whether this page itself brought a state about just now. */
  isOwn(digest) {
    return Date.now() - (this.own.get(digest) ?? 0) < 3000;
  }

  get isBusy() {
    return this.isSending || this.waiting.size > 0;
  }

  /** Keep one place as typed: a text, a row of texts, or null for a row that is taken out. */
  keep(where, typed) {
    this.keepAll([[where, typed]]);
  }

  keepAll(changes) {
    for (const [where, typed] of changes) this.waiting.set(where, typed);
    this.#remember([...this.waiting]);
    this.#send();
  }

  /** Move what was dragged on a plan, once all that was typed is kept. */
  async drag(move) {
    await this.settled();
    const answer = await fetch(`/api/jobs/${this.job}/drags`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify({ over: this.digest, ...move }),
    }).catch(() => null);
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
    const ours = `evenfoot-left-over-${this.job}-`;
    const found = Object.keys(localStorage).filter((key) => key.startsWith(ours));
    for (const key of found) {
      let kept;
      try {
        kept = JSON.parse(localStorage.getItem(key));
      } catch {
        kept = null;
      }
      if (!kept || (kept.at > Date.now() - 5000 && key !== this.place)) continue;
      localStorage.removeItem(key);
      this.digest = kept.over ?? this.digest;
      this.keepAll(kept.changes);
    }
  }

  #remember(changes) {
    if (changes.length) {
      localStorage.setItem(this.place, JSON.stringify({ at: Date.now(), over: this.digest, changes }));
    } else {
      localStorage.removeItem(this.place);
    }
  }

  async settled() {
    while (this.isBusy) await new Promise((done) => setTimeout(done, 50));
  }

  async #send() {
    if (this.isSending || !this.waiting.size) return;
    this.isSending = true;
    const batch = [...this.waiting];
    this.waiting.clear();
    this.onProgress("saving");
    const answer = await this.#post(batch);
    this.isSending = false;
    if (!answer) {
      for (const [where, typed] of batch) if (!this.waiting.has(where)) this.waiting.set(where, typed);
      this.#remember([...this.waiting]);
      this.onProgress("unsent");
      setTimeout(() => this.#send(), this.wait);
      this.wait = Math.min(this.wait * 2, 15000);
      return;
    }
    this.wait = 1000;
    this.#remember([...this.waiting]);
    if (answer.clashes?.length) this.onClashes(answer.clashes);
    if (answer.state) this.#take(answer.state);
    if (!this.waiting.size) this.onProgress(answer.state ? "saved" : "unsent");
    this.#send();
  }

  #take(state) {
    this.own.set(state.digest, Date.now());
    this.digest = state.digest;
    this.onState(state);
  }

  /** Returns the answer; null when it should be tried again. */
  async #post(batch) {
    try {
      const answer = await fetch(`/api/jobs/${this.job}/changes`, {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ over: this.digest, changes: Object.fromEntries(batch) }),
      });
      if (answer.ok) return await answer.json();
      return answer.status >= 500 || [401, 409, 429].includes(answer.status) ? null : {};
    } catch {
      return null;
    }
  }
}
