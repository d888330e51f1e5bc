// Codes and facts in, sentences out, in one language and one unit; as evenfoot.words and the bench of evenfoot set.
import { formatLength, parseLength, UNITS } from "./lengths.js";
import { add, fixed, floor, general, over, ratio, times, toNumber } from "./rational.js";

const IROHA = "いろはにほへとちりぬるをわかよたれそつねならむうゐのおくやまけふこえてあさきゆめみしゑひもせす";
const SAID = new Map([
  ["in", "ft"],
  ["cm", "mm"],
  ["ken", "shaku"],
  ["sun", "shaku"],
  ["bu", "shaku"],
  ["rin", "shaku"],
]);
const GRAVITY = 9.80665;
const NEAR = 350;
const NAMED = 8;

function irohaLabel(letters) {
  let index = 0;
  for (const letter of letters) index = index * 26 + letter.charCodeAt(0) - 64;
  const [turns, place] = [Math.floor((index - 1) / IROHA.length), (index - 1) % IROHA.length];
  return IROHA[place] + (turns ? String(turns + 1) : "");
}

function letters(index) {
  let [out, rest] = ["", index + 1];
  while (rest) {
    out = String.fromCharCode(65 + ((rest - 1) % 26)) + out;
    rest = Math.floor((rest - 1) / 26);
  }
  return out;
}

/** Says codes of the catalogue ``words`` {code: {en, ja}} in one language, lengths in the unit of a job. */
export class Speaker {
  constructor(words, language, unit) {
    Object.assign(this, { words, language, typed: unit, unit: SAID.get(unit) ?? unit });
    this.isJapanese = language === "ja";
    this.gap = this.isJapanese ? "" : " ";
    this.comma = this.isJapanese ? "、" : ", ";
    this.isInch = this.unit === "in" || this.unit === "ft";
  }

  knows(code) {
    return code in this.words;
  }

  say(code, facts = {}) {
    const said = {};
    for (const [name, value] of Object.entries(facts)) {
      said[name.replace(/_code$/, "")] = this.fact(name, value);
    }
    if (!this.knows(code)) throw new Error(`no words for ${code}`);
    return this.words[code][this.language].replace(/\{(\w+)\}/g, (_, name) => said[name]);
  }

  fact(name, value) {
    if (typeof value === "string") return name.endsWith("_code") ? this.say(value) : value;
    if (name.endsWith("_mm")) return this.length(value);
    return Number.isInteger(value) ? String(value) : general(value, 4);
  }

  /** A length as the speaker of the sheets says it. */
  length(mm) {
    return formatLength(mm, this.unit);
  }

  /** A length as it is read off a tape: half a bu with shaku. */
  said(mm) {
    return this.unit === "shaku" ? formatLength(mm, "shaku", over(UNITS.get("bu").mm, ratio(2n))) : this.length(mm);
  }

  /** A small amount as one reads it off a rule: mm with m, rin with shaku. */
  small(mm) {
    if (this.unit === "m") return formatLength(mm, "mm");
    return this.unit === "shaku" ? formatLength(mm, "shaku", UNITS.get("rin").mm) : this.length(mm);
  }

  /** A plus-or-minus rounded up to what can be read. */
  plus(mm) {
    const finer = { m: "mm", shaku: "rin" };
    const { step } = UNITS.get(finer[this.unit] ?? this.unit);
    const steps = Math.ceil(mm / toNumber(step) - 1e-9);
    return this.small(toNumber(times(step, ratio(BigInt(steps)))));
  }

  /** A small amount with its sign, plain when it is nothing. */
  signed(mm) {
    const text = this.small(mm);
    return mm > 0 && text !== this.small(0) ? `+${text}` : text;
  }

  /** A length to cut: 0.5 mm, 1/32 inch, one rin. */
  cut(mm) {
    if (this.isInch) return formatLength(mm, this.unit, over(UNITS.get("in").mm, ratio(32n)));
    return this.unit === "shaku" ? formatLength(mm, "shaku", UNITS.get("rin").mm) : formatLength(mm, "mm");
  }

  /** The same for a table whose head names the unit: metric figures stand bare. */
  cutBare(mm) {
    return this.cut(mm).replace(/ mm$/, "");
  }

  /** A small movement to a tenth of a millimetre, in inches to a hundredth beside it. */
  fine(mm) {
    const text = `${fixed(mm + 0, 1)} mm`;
    return this.isInch ? `${fixed(mm / 25.4 + 0, 2)}" (${text})` : text;
  }

  /** What is taken off or put under a post. */
  by(mm) {
    return this.isInch ? this.fine(mm) : this.small(mm);
  }

  /** A force as the mass that weighs so much [kg]. */
  kg(newtons) {
    return general(Number(fixed(newtons / GRAVITY, 0)), 4);
  }

  /** A mark as this language's carpenters write it. */
  mark(mark) {
    return this.isJapanese ? mark.replace(/[A-Z]+/g, irohaLabel) : mark;
  }

  /** A mark as it is kept, from one typed in full or half width, letters or i-ro-ha. */
  typedMark(text) {
    const plain = text.trim().normalize("NFKC");
    return plain.replace(/./gu, (c) => (IROHA.includes(c) ? letters(IROHA.indexOf(c)) : c));
  }

  /** A typed length [mm]; throws LengthError. */
  read(text) {
    return parseLength(text, this.typed);
  }

  join(parts) {
    return parts.join(this.comma);
  }

  /** Posts with an amount each, the first few of many. */
  listed(parts, most = NAMED) {
    const these = this.join(parts.slice(0, most));
    const count = parts.length - most;
    return count > 0 ? this.say("setting.posts.and-more", { these, count }) : these;
  }

  /** A place on the floor: a post, or how far along the wall and out from it. */
  spot(frame, at) {
    let [away, mark] = [Infinity, ""];
    frame.marks.forEach((one, k) => {
      const reach = Math.hypot(frame.x[k] - at[0], frame.y[k] - at[1]);
      if (reach < away || (reach === away && one < mark)) [away, mark] = [reach, one];
    });
    if (away <= NEAR) return this.say("setting.posts.post-spot", { mark: this.mark(mark) });
    const tens = (mm) => Number(fixed(mm / 10, 0)) * 10;
    return this.say("setting.posts.plan-spot", { x_mm: tens(at[0]), y_mm: tens(at[1]) });
  }

  /** Who stands where: someone at a place, or nobody at all. */
  someone(frame, at) {
    if (at === null) return this.say("setting.posts.nobody");
    return this.say("setting.posts.someone", { spot: this.spot(frame, at) });
  }

  /** Steps of a thread as turns: 1 1/2. */
  turns(steps, perTurn) {
    const value = ratio(BigInt(steps), BigInt(perTurn));
    const whole = floor(value);
    const rest = add(value, ratio(-whole));
    const broken = rest.n ? `${rest.n}/${rest.d}` : "";
    return [whole ? String(whole) : "", broken].filter(Boolean).join(" ") || "0";
  }
}
