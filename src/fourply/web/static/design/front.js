// The front view: a function of the data, of the place that it has, and of what is in hand.
import { s } from "./patch.js";
import { data, dimension, label, line, on, reduced } from "./lines.js";

const SHOWN = { "outside of the frame": "edge", "edge of the lip": "edge", mitre: "fine fixed", "edge of the package": "hidden fixed",
  "edge of a groove": "fine fixed", "edge of a ruled line": "none", "edge of an inlay": "fine fixed", "edge of the coloured face": "fine fixed",
  "back line of a mat": "fine fixed", "the window": "thin fixed", "edge of the art": "hidden fixed" };
const TIER = 24;

/** Return the chains that are drawn on a side: all where they are few, else the top mat's and the whole. */
const chains = (tiers) => (tiers.length > 3 ? [tiers[0], tiers.at(-1)] : tiers);

/** Return where a front view stands in a room: its scale, its origin; `held` keeps the window where it was. */
export function place(design, room, held) {
  const { front } = design;
  const left = 12 + TIER * chains(front.dimensions.left).length, right = 16 + (front.dimensions.right.length ? TIER : 0);
  const top = 10 + (front.dimensions.top.length ? TIER : 0), bottom = 16 + TIER * chains(front.dimensions.bottom).length;
  const inner = { width: room.width - left - right, height: room.height - top - bottom };
  const scale = held?.scale ?? reduced(front.width, front.height, inner);
  const spareX = Math.max(0, inner.width - front.width * scale.k), spareY = Math.max(0, inner.height - front.height * scale.k);
  let x = left + spareX / 2, y = top + Math.min(spareY / 2, room.fixed ? 24 : 0);
  if (held) {
    const middle = centre(design);
    x = held.at[0] - middle[0] * scale.k;
    y = held.at[1] - middle[1] * scale.k;
  }
  return { scale, x, y, height: top + front.height * scale.k + bottom + 8 };
}

/** Return the middle of the first window, in millimetres. */
export function centre({ front }) {
  const [left, top, right, bottom] = front.windows[0]?.box ?? [0, 0, front.width, front.height];
  return [(left + right) / 2, (top + bottom) / 2];
}

/** Return the whole drawing; `hand` is {name, figure} of what is in hand, `act` what its parts do. */
export function front(design, at, hand, act, pictures = []) {
  const { front: view } = design, { k } = at.scale;
  const X = (mm) => at.x + mm * k, Y = (mm) => at.y + mm * k;
  return [
    s("defs", {}, s("clipPath", { id: "sight" }, view.fills.filter((each) => each.kind === "window").map((each) => s("path", { d: data(each.steps) })))),
    s("g", { transform: `translate(${at.x} ${at.y}) scale(${k})`, class: "things" },
      view.fills.map((each) => s("path", { d: data(each.steps), fill: each.colour, "fill-rule": "evenodd" })),
      s("g", { "clip-path": "url(#sight)" }, view.sheets.map((each, i) => sheet(each, pictures[i]))),
      view.outlines.map((each) => s("path", { d: data(each.steps), class: SHOWN[each.edge] ?? "fine" }))),
    mark(view, X, Y),
    numbers(view, X, Y),
    banks(view, at, hand, act),
    findings(design, X, Y, act),
    s("g", { class: "handles" }, design.handles.map((each) => handle(each, X, Y, hand, act))),
  ];
}

function sheet(each, picture) {
  const { left, top, right, bottom } = each.image;
  const area = { x: left, y: top, width: right - left, height: bottom - top };
  return s("g", {}, each.sheet && s("path", { d: data(each.sheet), class: "paper" }),
    picture ? s("image", { ...area, href: picture, preserveAspectRatio: "xMidYMid slice" }) : s("rect", { ...area, class: each.whole ? "sheet" : "image" }));
}

function mark(view, X, Y) {
  const each = view.windows.find((one) => one.cut !== null);
  if (!each) return null;
  const x = X(each.cut), low = Y(each.box[3]), end = Y(view.height) - 9, high = Math.max(Y(each.box[1]), low - 34);
  const wood = on(view.fills[0].colour);
  const arrow = (y) => `M${x} ${y}H${x - 15}M${x - 9} ${y - 3}L${x - 15} ${y}L${x - 9} ${y + 3}`;
  return s("g", { class: "mark" }, line(x, high, x, end, "halo"), line(x, high, x, end, "chain fixed"),
    s("path", { d: arrow(high), class: "thin fixed" }), label(x - 19, high + 4, "A", "small bold fixed", "end"),
    s("path", { d: arrow(end), class: `thin ${wood}` }), label(x - 19, end + 4, "A", `small bold ${wood}`, "end"));
}

function numbers(view, X, Y) {
  return view.windows.filter((each) => each.number).map((each) =>
    label((X(each.box[0]) + X(each.box[2])) / 2, (Y(each.box[1]) + Y(each.box[3])) / 2 + 5, String(each.number), "main fixed"));
}

/** Return a sign beside each place of which something is found; those of one place stand side by side. */
function findings(design, X, Y, act) {
  const stood = new Map();
  return s("g", { class: "signs" }, design.findings.map((each, i) => {
    if (!each.at) return null;
    const key = each.at.map(Math.round).join(" "), nth = stood.get(key) ?? 0;
    stood.set(key, nth + 1);
    const go = () => act.finding(i);
    return s("g", { class: `sign ${each.level}`, transform: `translate(${X(each.at[0]) + 20 + 20 * nth} ${Y(each.at[1]) - 18})`, tabindex: 0, role: "link", "aria-label": `${each.says} ${each.remedy}`, "data-sign": each.rule,
      on: { click: go, keydown: (event) => { if (event.key === "Enter") { event.preventDefault(); go(); } } } },
    s("title", {}, `${each.says} ${each.remedy}`), s("rect", { x: -12, y: -12, width: 24, height: 24, class: "hit" }), s("path", { d: "M0 -9L10 8H-10Z", class: "seen" }), each.level === "note" ? null : label(0, 5.5, "!", "small bold fixed"));
  }));
}

function banks(view, at, hand, act) {
  const { k } = at.scale, right = at.x + view.width * k, bottom = at.y + view.height * k;
  const sides = [
    [chains(view.dimensions.bottom), false, (tier) => bottom + 16 + TIER * tier, (foot) => bottom - foot * k, 5],
    [chains(view.dimensions.left), true, (tier) => at.x - 12 - TIER * tier, (foot) => at.x + foot * k, -5],
    [view.dimensions.top, false, (tier) => at.y - 12 - TIER * tier, (foot) => at.y - foot * k, -5],
    [view.dimensions.right, true, (tier) => right + 22 + TIER * tier, (foot) => right - foot * k, 5],
  ];
  return s("g", { class: "dims" }, sides.map(([tiers, upright, level, foot, past]) => tiers.map((tier, number) => {
    const start = upright ? at.y : at.x;
    return tier.map((each) => {
      const heavy = Boolean(each.figure) && each.figure === hand?.figure;
      const [from, to] = [start + each.start * k, start + each.end * k], v = level(number);
      const ends = [[from, each.foot], [to, each.end_foot ?? each.foot]];
      return s("g", {},
        ends.map(([along, inward]) => (upright ? line(foot(inward), along, v + past, along, "ext") : line(along, foot(inward), along, v + past, "ext"))),
        dimension({ from, to, at: v, text: each.text, upright, heavy, onText: { on: { click: () => act.figure(each.figure) }, "data-figure": each.figure } }));
    });
  })));
}

function handle(each, X, Y, hand, act) {
  const x = X(each.at[0]), y = Y(each.at[1]), held = each.name === hand?.name;
  return s("g", { class: `handle${held ? " held" : ""}`, transform: `translate(${x} ${y})`, tabindex: 0, role: "slider",
    "aria-label": `${each.says}, ${each.outline}`, "aria-valuenow": each.now.toFixed(2), "aria-valuemin": 0, "aria-valuemax": 3000,
    "aria-valuetext": each.value, "aria-orientation": each.way[0] ? "horizontal" : "vertical", "data-handle": each.name, "data-way": each.way.join(" "),
    on: { pointerdown: (event) => act.down(event, each), focus: () => act.take(each), blur: (event) => act.leave(event, each), keydown: (event) => act.key(event, each), dblclick: () => act.open(each) } },
  s("rect", { x: -14, y: -14, width: 28, height: 28, class: "hit" }),
  held ? [s("rect", { x: -12, y: -12, width: 24, height: 24, class: "round" }), s("rect", { x: -8.5, y: -8.5, width: 17, height: 17, class: "inner" })] : null,
  s("rect", { x: -4.5, y: -4.5, width: 9, height: 9, class: "seen" }));
}
