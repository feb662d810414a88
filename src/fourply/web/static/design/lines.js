// Lines of a drawing: paths from their steps, dimensions with open arrowheads, scales that a sheet may state.
import { s } from "./patch.js";
import { drawn, widthOf } from "./words.js";

/** Pixels of a millimetre at full size: a screen has 96 to the inch. */
export const FULL = 96 / 25.4;
const REDUCED = [1, 2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 24, 32, 40, 50, 100];
const ENLARGED = [[5, 1], [4, 1], [3, 1], [5, 2], [2, 1], [3, 2], [1, 1], [1, 2], [1, 3], [1, 4], [1, 5]];
const n = (value) => Math.round(value * 1000) / 1000;

/** Return the largest scale at which so many millimetres fit: {k: pixels of a millimetre, says}. */
export function reduced(width, height, room) {
  const by = REDUCED.find((each) => width * FULL <= room.width * each && height * FULL <= room.height * each) ?? 100;
  return { k: FULL / by, says: `1:${by}` };
}

/** Return the largest scale of a section for which `fits(k)` is true. */
export function enlarged(fits) {
  const [up, down] = ENLARGED.find(([over, under]) => fits((FULL * over) / under)) ?? ENLARGED.at(-1);
  return { k: (FULL * up) / down, says: `${up}:${down}` };
}

/** Return steps as path data. */
export function data(steps) {
  return steps.map((step) => {
    const [what, ...at] = step;
    if (what === "Z") return "Z";
    if (what === "A") return arc(...at);
    return what + at.map(n).join(" ");
  }).join("");
}

function arc(cx, cy, rx, ry, start, sweep) {
  const halves = Math.max(1, Math.ceil(Math.abs(sweep) / 179));
  let text = "";
  for (let i = 1; i <= halves; i += 1) {
    const turn = ((start + (sweep * i) / halves) * Math.PI) / 180;
    text += `A${n(rx)} ${n(ry)} 0 0 ${sweep > 0 ? 1 : 0} ${n(cx + rx * Math.cos(turn))} ${n(cy + ry * Math.sin(turn))}`;
  }
  return text;
}

/** Return a polygon as path data. */
export const polygon = (points) => points.map(([x, y], at) => `${at ? "L" : "M"}${n(x)} ${n(y)}`).join("") + "Z";

/** Return a line of a class. */
export const line = (x1, y1, x2, y2, kind) => s("line", { x1: n(x1), y1: n(y1), x2: n(x2), y2: n(y2), class: kind });

/** Return the kind of ink that can be read on a colour: dark on what is light, light on what is dark. */
export function on(colour) {
  const [red, green, blue] = [1, 3, 5].map((at) => parseInt(colour.slice(at, at + 2), 16) / 255);
  return 0.299 * red + 0.587 * green + 0.114 * blue > 0.5 ? "fixed" : "light";
}

/** Return text at a place; `turned` to be read from the right. */
export function label(x, y, text, kind = "small", anchor = "middle", turned = false, more = {}) {
  const turn = turned ? { transform: `rotate(-90 ${n(x)} ${n(y)})` } : {};
  return s("text", { x: n(x), y: n(y), class: kind, "text-anchor": anchor, ...turn, ...more }, drawn(text));
}

function head(x, y, dx, dy) {
  const reach = 8, spread = reach * Math.tan((14 * Math.PI) / 180);
  const [ax, ay] = [x + dx * reach + dy * spread, y + dy * reach + dx * spread];
  const [bx, by] = [x + dx * reach - dy * spread, y + dy * reach - dx * spread];
  return `M${n(ax)} ${n(ay)}L${n(x)} ${n(y)}L${n(bx)} ${n(by)}`;
}

/** Return a dimension line between two places along a side, with its figure on it. */
export function dimension({ from, to, at, text, upright = false, heavy = false, onText = {}, before = 0, after = 0 }) {
  const place = (along, across) => (upright ? [across, along] : [along, across]);
  const [low, high] = [Math.min(from, to), Math.max(from, to)];
  const size = heavy ? 15 : 12.5;
  const room = high - low, wide = widthOf(text, size, heavy ? 700 : 400);
  const arrows = room >= 20;
  const [x1, y1] = place(low, at), [x2, y2] = place(high, at);
  const unit = upright ? [0, 1] : [1, 0];
  const ends = arrows
    ? head(x1, y1, ...unit) + head(x2, y2, -unit[0], -unit[1])
    : [[x1, y1], [x2, y2]].map(([x, y]) => `M${n(x - 3)} ${n(y + 3)}L${n(x + 3)} ${n(y - 3)}`).join("");
  let middle = (low + high) / 2;
  if (wide > room - 4) middle = before > wide + 4 && before >= after ? low - wide / 2 - 5 : after > wide + 4 ? high + wide / 2 + 5 : middle;
  const [tx, ty] = place(middle, at - 4);
  const kind = `dim${heavy ? " heavy" : ""}`;
  return s("g", { class: kind }, line(x1, y1, x2, y2, "d"), s("path", { d: ends, class: "d" }),
    label(tx, ty, text, heavy ? "main" : "small", "middle", upright, onText));
}
