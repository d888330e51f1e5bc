// Runs the phone's own modules on the engine's cases and tells every difference.
// Tolerances: the same arithmetic agrees to 1e-9 of the figure; what is found by iterating, or over matrices whose order of
// summing differs, to 1e-7 mm or N beside it; a gap where a foot just touches may be either side of nothing by as much.

const RELATIVE = 1e-9;
const ABSOLUTE = 1e-7;
const ITERATED = 1e-6;

export function differences(found, wanted, { place = "", relative = RELATIVE, absolute = ABSOLUTE } = {}) {
  if (typeof wanted === "number" && typeof found === "number") {
    const isNear = Math.abs(found - wanted) <= absolute + relative * Math.abs(wanted);
    return isNear ? [] : [`${place}: ${found} instead of ${wanted}`];
  }
  if (wanted === null || typeof wanted !== "object") {
    return found === wanted ? [] : [`${place}: ${JSON.stringify(found)} instead of ${JSON.stringify(wanted)}`];
  }
  if (found === null || typeof found !== "object")
    return [`${place}: ${JSON.stringify(found)} instead of an object`];
  const keys = Object.keys(wanted);
  const out =
    keys.length === Object.keys(found).length || !Array.isArray(wanted) ? [] : [`${place}: another length`];
  const options = { relative, absolute };
  return out.concat(
    ...keys.map((key) => differences(found[key], wanted[key], { place: `${place}.${key}`, ...options })),
  );
}

const MAKES = {
  lengths({ read, written }, { lengths }) {
    const out = read.flatMap(({ unit, text, mm, code }, k) => {
      let found;
      try {
        found = { mm: lengths.parseLength(text, unit) };
      } catch (error) {
        found = { code: error.code };
      }
      return differences(found, code ? { code } : { mm }, { place: `read ${k} ${text}`, relative: 0, absolute: 0 });
    });
    return out.concat(...written.map(({ unit, mm, text }) => differences(lengths.formatLength(mm, unit), text)));
  },

  slips: (cases, { slips }) =>
    cases.flatMap((c, k) =>
      differences(slips.likelySlip(c.found, c.expected, c.within), c.slip, { place: `${k}` }),
    ),

  // The root is found by halving 48 times on either side: 1e-12 of the limit.
  chances: (cases, { fit }) => cases.flatMap((c) => differences(fit.chiSquaredLimit(c.share, c.freedom), c.limit)),

  squares: (cases, { square, square_answer }) =>
    cases.flatMap((c, k) => {
      const wanted = { corners: c.corners, isSizeKnown: c.is_size_known, within: 3, same: c.same };
      const found = square.squareUp(wanted, c.read, { reading: 1.5, scale: 0.0002 });
      // Both fits stop where a step is less than 1e-11 of the frame's size; beyond that they may differ.
      return differences(square_answer.recordOf(found), c.answer, { place: `square ${k}`, absolute: ITERATED });
    }),

  runs: (cases, { run }) =>
    cases.flatMap((c, k) => differences(run.runningGap(c.run, c.spacing), c.answer, { place: `run ${k}` })),

  contacts: (cases, { contact }) =>
    cases.flatMap((c, k) => {
      const settler = new contact.Settler(c.flexibility, c.modes, c.is_two_way);
      const found = settler.settle(c.offset, c.total);
      const told = { is_held: found.isHeld, press: null, gap: null };
      if (found.isHeld) Object.assign(told, { press: [...found.press], gap: [...found.gap] });
      return differences(told, c.answer, { place: `contact ${k}` });
    }),

  lines: (cases, { log }) =>
    cases.flatMap(({ row, text, id }) => [
      ...differences(log.idOf(row), id),
      ...differences(log.written(row), text),
    ]),
};

/** What sag there is between feet the phone leaves to the engine (docs/site-pack.md). */
function withoutSag(record) {
  return { ...record, marks: record.marks?.map(({ sag_mm: _, ...rest }) => rest) };
}

/** The last sentences of the engine's detail name figures and options of a command: the phone has none. */
const isFigures = (text) =>
  /--|未確認の値|Feet cut square|直角に切った|Least air|材と地面|^Posts: |^\d+ posts: |^束\d+本：/.test(text);

function answered(c, what, pack, modules, language) {
  const speaker = new modules.words.Speaker(pack.words, language, pack.job.unit);
  const ask = {
    square: () => modules.square_answer.answerSquare(pack.square, c.log, speaker),
    level: () => modules.level_answer.answerLevel(pack.level, c.log, speaker),
    boards: () => modules.boards_answer.answerBoards(pack.boards, c.log, speaker),
    posts: () => modules.posts_answer.answerPosts(pack.posts, c.log, speaker),
  }[what];
  try {
    return ask() ?? { code: "nothing" };
  } catch (error) {
    if (!error.code) throw error;
    return { code: error.code };
  }
}

/**
 * Where more than three posts have to be changed the engine finds the fewest by an integer program, which the phone has
 * not: its own set must make the same floor steady too, and what it says is the least must be no more than the engine
 * proved. All else must be equal. Null where the phone's answer has to be the engine's.
 */
function severalChanged(found, wanted, language) {
  const [own, theirs] = [found.record.remedy, wanted.record.remedy];
  if (!theirs || theirs.changes.length <= 3) return null;
  const { remedy: _, ...rest } = wanted.record;
  const out = differences(found.record, rest, { absolute: ITERATED });
  if (!own.is_found || own.widest_gap_after_mm > found.record.limit_mm + 1e-4)
    out.push("what the phone says does not help");
  if (own.least_posts > theirs.least_posts)
    out.push(`at least ${own.least_posts}, but ${theirs.least_posts} do it`);
  if (own.changes.length < theirs.least_posts) out.push("fewer than the engine proved");
  out.push(
    ...differences(found.lines[0], wanted.lines[language][0]),
    ...differences(found.lines[2], wanted.lines[language][2]),
  );
  return out;
}

const NOTHING = new Set(["square-nothing-read", "level-nothing-read"]);

/** Every station of every log against the engine: figures, the three lines and the detail in both languages. */
export function compareAnswers(cases, packs, modules) {
  const out = [];
  cases.forEach((c, k) => {
    for (const [what, wanted] of Object.entries(c.said)) {
      for (const language of ["en", "ja"]) {
        const place = `${c.job} ${k} ${what} ${language}`;
        const found = answered(c, what, packs[c.job], modules, language);
        if (wanted.code) {
          const isSame = found.code === wanted.code || (found.code === "nothing" && NOTHING.has(wanted.code));
          if (!isSame) out.push(`${place}: ${JSON.stringify(found).slice(0, 200)} instead of ${wanted.code}`);
          continue;
        }
        const many = what === "posts" && severalChanged(found, wanted, language);
        if (many) {
          out.push(...many.map((text) => `${place}: ${text}`));
          continue;
        }
        const record = what === "level" ? withoutSag(wanted.record) : wanted.record;
        out.push(...differences(found.record, record, { place: `${place} record`, absolute: ITERATED }));
        out.push(...differences(found.lines, wanted.lines[language], { place: `${place} lines` }));
        const kept = wanted.detail[language].filter((text) => !isFigures(text));
        for (const text of kept) if (!found.detail?.includes(text)) out.push(`${place}: not said: ${text}`);
      }
    }
  });
  return out;
}

export const compare = (name, cases, modules) => MAKES[name](cases, modules);
