// Long work: begun, told how far it is, stopped; what comes of it is told to whoever began it.

const OVER = ["done", "stopped", "wrong"];

export class Errand {
  #token = null;

  /** `onOver` gets the errand once nothing more will come of it, `onBegun` when another begins. */
  constructor({ onBegun = () => {}, onOver }) {
    Object.assign(this, { onBegun, onOver });
    this.box = document.getElementById("errand");
    this.stop = document.getElementById("stop");
    this.stop.addEventListener("click", () => this.#ask("DELETE"));
  }

  async begin(path, body = {}) {
    this.onBegun();
    const headers = { "Content-Type": "application/json" };
    const answer = await fetch(path, { method: "POST", headers, body: JSON.stringify(body) }).catch(() => null);
    if (answer) this.#show(await answer.json());
  }

  #show(errand) {
    this.box.hidden = false;
    const faults = errand.error?.faults ?? errand.faults;
    this.box.querySelector(".stage").textContent = faults.map((fault) => fault.text).join(" ") || errand.stage;
    if (errand.error) return;
    this.#token = errand.token;
    this.stop.hidden = OVER.includes(errand.state);
    if (this.stop.hidden) this.onOver(errand);
    else setTimeout(() => errand.token === this.#token && this.#ask("GET"), 400);
  }

  async #ask(method) {
    const token = this.#token;
    const answer = await fetch(`/api/errands/${token}`, { method }).catch(() => null);
    if (token !== this.#token) return;
    if (answer) this.#show(await answer.json());
    else setTimeout(() => this.#ask("GET"), 2000);
  }
}
