// Figures as a page sets them: real fractions, the blank before one closed up.
import { h, s } from "./patch.js";

const FRACTION = /(\d+)[/⁄](\d+)/g;
const paint = document.createElement("canvas").getContext("2d");

function parts(text, wrap) {
  const found = [];
  let at = 0;
  for (const each of text.matchAll(FRACTION)) {
    const before = text.slice(at, each.index);
    if (before) found.push(/\d $/.test(before) ? before.slice(0, -1) : before);
    found.push(wrap(`${each[1]}/${each[2]}`));
    at = each.index + each[0].length;
  }
  if (at < text.length) found.push(text.slice(at));
  return found;
}

/** Return text for HTML, its fractions set as fractions. */
export const figures = (text) => parts(text, (each) => h("span", { class: "frac" }, each));

/** Return text for a drawing, its fractions set as fractions. */
export const drawn = (text) => parts(text, (each) => s("tspan", { class: "frac", dx: "0.06em" }, each));

/** Return how wide a text is in a drawing, in pixels. */
export function widthOf(text, size = 12.5, weight = 400) {
  paint.font = `${weight} ${size}px "Noto Sans", sans-serif`;
  const plain = text.replace(/(\d) (?=\d+[/⁄])/g, "$1").replace(FRACTION, "00");
  return paint.measureText(plain).width;
}
