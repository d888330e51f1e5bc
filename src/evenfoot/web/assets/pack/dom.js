// Elements in few words; text is always text, never markup.

/** An element: el("p", {class: "first"}, "text", other). ``on`` holds listeners by the name of their event. */
export function el(tag, props = {}, ...children) {
  const out = document.createElement(tag);
  for (const [name, value] of Object.entries(props)) {
    if (name === "on") for (const [event, act] of Object.entries(value)) out.addEventListener(event, act);
    else if (value === true) out.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) out.setAttribute(name, String(value));
  }
  out.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== ""));
  return out;
}

/** A big button; ``props`` as for any element. */
export const button = (text, act, props = {}) =>
  el("button", { type: "button", ...props, on: { click: act } }, text);

/** An element of a drawing. */
export function shape(tag, props = {}, ...children) {
  const out = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(props)) out.setAttribute(name, String(value));
  out.append(...children);
  return out;
}

/** The answer of a station: first line large, what to do, how sure; the rest folded away. */
export function answerBox({ lines, detail = [] }, moreWords) {
  const [first, ...rest] = lines;
  const box = el("section", { class: "answer", "aria-live": "polite" }, el("p", { class: "first" }, first));
  rest.forEach((line, k) => box.append(el("p", { class: k === 0 ? "do" : "sure" }, line)));
  if (detail.length) {
    const list = el(
      "ul",
      {},
      detail.map((line) => el("li", {}, line)),
    );
    box.append(el("details", {}, el("summary", {}, moreWords), list));
  }
  return box;
}
