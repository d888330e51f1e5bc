// Answers about posts worked out beside the page, so that it never stands still; in the page itself where it must.
import { answerPosts } from "./posts_answer.js";
import { SiteError } from "./fit.js";
import { Speaker } from "./words.js";

/** An answer, or the code of what cannot be answered; ``tell`` is given what is known on the way. */
export function reckon({ pack, lines, language, prefer }, tell = null) {
  try {
    return answerPosts(pack.posts, lines, new Speaker(pack.words, language, pack.job.unit), { prefer, tell });
  } catch (error) {
    if (!(error instanceof SiteError)) throw error;
    return { code: error.code, found: error.found };
  }
}

/** Listen for a question: this is the part that runs beside the page. */
export function serve(scope) {
  scope.onmessage = ({ data }) => {
    const tell = (answer) => scope.postMessage({ answer, isWhole: false });
    scope.postMessage({ answer: reckon(data, tell), isWhole: true });
  };
}

/** Asks for answers and keeps them; ``tell`` is called when one has come. A new question ends the one before. */
export class Reckoner {
  constructor(pack, source, tell) {
    this.pack = { words: pack.words, posts: pack.posts, job: pack.job };
    Object.assign(this, { source, tell, known: new Map(), asked: "", begun: null, worker: null });
  }

  /** The answer for these lines as far as it is known, null before anything is. */
  ask(lines, language, prefer) {
    const key = JSON.stringify([lines.map((line) => line.id), language, prefer]);
    if (!this.known.has(key) && this.asked !== key) {
      this.asked = key;
      this.begun = null;
      this.start(key, { pack: this.pack, lines, language, prefer });
    }
    return this.known.get(key) ?? this.begun;
  }

  start(key, question) {
    this.worker?.terminate();
    this.worker = workerOf(this.source);
    if (this.worker === null) {
      setTimeout(() => this.keep(key, { answer: reckon(question), isWhole: true }), 50);
      return;
    }
    this.worker.onmessage = ({ data }) => this.keep(key, data);
    this.worker.postMessage(question);
  }

  keep(key, { answer, isWhole }) {
    if (isWhole) this.known.set(key, answer);
    else if (this.asked === key) this.begun = answer;
    this.tell();
  }
}

function workerOf(source) {
  try {
    const address = URL.createObjectURL(new Blob([source], { type: "text/javascript" }));
    return new Worker(address);
  } catch {
    return null;
  }
}
