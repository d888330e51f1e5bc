// Answers about posts worked out beside the page, so that it never stands still; in the page itself where it must.
import { answerPosts } from "./posts_answer.js";
import { SiteError } from "./fit.js";
import { Speaker } from "./words.js";

/** An answer, or the code of what cannot be answered. */
export function reckon({ pack, lines, language, prefer }) {
  try {
    return answerPosts(pack.posts, lines, new Speaker(pack.words, language, pack.job.unit), { prefer });
  } catch (error) {
    if (!(error instanceof SiteError)) throw error;
    return { code: error.code, found: error.found };
  }
}

/** Listen for questions: this is the part that runs beside the page. */
export function serve(scope) {
  let pack = null;
  scope.onmessage = ({ data }) => {
    pack = data.pack ?? pack;
    scope.postMessage({ key: data.key, answer: reckon({ ...data, pack }) });
  };
}

/** Asks for answers and keeps them; ``tell`` is called when one has come. */
export class Reckoner {
  constructor(pack, source, tell) {
    Object.assign(this, { pack, tell, known: new Map(), asked: new Set() });
    this.worker = workerOf(source);
    this.worker?.postMessage({
      pack: { words: pack.words, posts: pack.posts, job: pack.job },
      key: "",
      lines: [],
      language: "en",
    });
    if (this.worker) this.worker.onmessage = ({ data }) => this.keep(data.key, data.answer);
  }

  keep(key, answer) {
    if (!key) return;
    this.known.set(key, answer);
    this.tell();
  }

  /** The answer for these lines, null while it is being worked out. */
  ask(lines, language, prefer) {
    const key = JSON.stringify([lines.map((line) => line.id), language, prefer]);
    if (this.known.has(key)) return this.known.get(key);
    if (!this.asked.has(key)) {
      this.asked.add(key);
      if (this.worker) this.worker.postMessage({ key, lines, language, prefer });
      else setTimeout(() => this.keep(key, reckon({ pack: this.pack, lines, language, prefer })), 50);
    }
    return null;
  }
}

function workerOf(source) {
  try {
    return new Worker(URL.createObjectURL(new Blob([source], { type: "text/javascript" })));
  } catch {
    return null;
  }
}
