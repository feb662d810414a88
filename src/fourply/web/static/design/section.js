// The section through the bottom rail: every layer true to its thickness, what is left for the points.
import { s } from "./patch.js";
import { dimension, enlarged, label, line, on, polygon } from "./lines.js";
import { widthOf } from "./words.js";

const BREAK = 20, FOOT = 64, HEAD = 14, WIDEST = -32;

const LEAD = 15;

/** Return the two lines that name a layer. */
const said = (layer) => {
  const first = layer.label;
  return layer.material ? [first, `${layer.material}, ${layer.thickness}`] : [`${first} ${layer.thickness}`];
};


function extent(view) {
  const xs = [...view.layers.flatMap((each) => each.areas.flat().map(([x]) => x)), ...view.rail.map(([x]) => x), view.point ?? 0];
  return [Math.min(0, ...view.layers.flatMap((each) => each.areas.flat().map(([x]) => x))), Math.max(...xs)];
}

/** Return how deep the rail is shown: all of it unless it is very wide. */
const footOf = (view) => Math.max(WIDEST, Math.min(view.bottom, ...view.rail.map(([, up]) => up)));

const short = (layer) => `${layer.label} ${layer.thickness}`;

/** Return where a section stands in a room. */
export function placeSection(view, room, held) {
  const [front, back] = extent(view), broken = view.high > view.low;
  const beside = Math.max(40, ...view.beside.map((each) => widthOf(each.text))) + 24;
  const under = room.width < 480; // no room for names beside it: they stand below, front to back
  const names = under ? 96 : Math.max(80, ...view.layers.flatMap((each) => [...said(each), short(each)]).map((each) => widthOf(each))) + 28;
  const foot = footOf(view);
  const tall = view.low - foot + (broken ? view.top - view.high : view.top - view.low);
  const rail = Math.min(0, ...view.rail.map(([x]) => x));
  const wide = (k) => Math.max(beside + 44, -rail * k + 34) + back * k + names;
  const scale = held?.scale ?? enlarged((k) => wide(k) <= room.width && tall * k + (broken ? BREAK : 0) + HEAD + FOOT <= room.height);
  const { k } = scale, left = Math.max(beside + 44, -rail * k + 34);
  const spare = Math.max(0, room.width - wide(k));
  const x = left + Math.min(spare / 2, 40), base = HEAD + tall * k + (broken ? BREAK : 0);
  const low = base - (view.low - foot) * k;
  const y = (mm) => (broken && mm > view.low ? low - BREAK - (Math.max(mm, view.high) - view.high) * k : base - (mm - foot) * k);
  return { scale, x, foot, base, under, room: room.width, height: base + FOOT + (under ? 18 * (view.layers.length + 1) + 8 : 0), low, broken, y, X: (mm) => x + mm * k, k, front, back };
}

/** Return the whole drawing. */
export function section(design, at, hand, act) {
  const view = design.section;
  const parts = at.broken ? [["below", at.low, at.base - at.low + 1, (mm) => at.base - (mm - at.foot) * at.k], ["above", -1000, at.low - BREAK + 1000, (mm) => at.low - BREAK - (mm - view.high) * at.k]]
    : [["below", -1000, at.base + 1001, (mm) => at.base - (mm - at.foot) * at.k]];
  return [
    s("defs", {},
      parts.map(([name, y, height]) => s("clipPath", { id: `cut-${name}` }, s("rect", { x: -1000, y, width: 5000, height }))),
      hatch("wood-hatch", 9, 45, "wood-line"), dots(), hatch("glass-hatch", 26, 30, "glass-line"), hatch("strip-hatch", 6, 45, "wood-line"), hatch("lift-hatch", 6, 135, "wood-line")),
    parts.map(([name, , , y]) => s("g", { "clip-path": `url(#cut-${name})` }, rail(view, at, y), view.layers.map((each) => layer(each, at, y)))),
    breaks(view, at),
    point(view, at),
    heights(view, at, hand),
    depths(design, at, act),
    names(view, at),
    remarks(view, at),
    found(design, at),
  ];
}

function hatch(id, gap, turn, kind) {
  return s("pattern", { id, width: gap, height: gap, patternUnits: "userSpaceOnUse", patternTransform: `rotate(${turn})` }, s("line", { x1: 0, y1: 0, x2: gap, y2: 0, class: kind }));
}

const dots = () => s("pattern", { id: "dot-hatch", width: 9, height: 9, patternUnits: "userSpaceOnUse" }, s("circle", { cx: 2, cy: 2, r: 0.8, class: "dot" }), s("circle", { cx: 6.5, cy: 6.5, r: 0.8, class: "dot" }));

function rail(view, at, y) {
  if (!view.rail.length) return null;
  const d = polygon(view.rail.map(([x, up]) => [at.X(x), y(up)]));
  return s("g", { class: "rail" }, s("path", { d, fill: view.wood, class: "thing" }), s("path", { d, fill: "url(#wood-hatch)", class: "edge" }));
}

const HATCH = { glazing: "glass-hatch", backing: "dot-hatch", spacer: "strip-hatch", fillet: "strip-hatch", lift: "lift-hatch", "sink mat": "lift-hatch" };

function layer(each, at, y) {
  return each.areas.map((area) => {
    const points = area.map(([x, up]) => [at.X(x), y(up)]), d = polygon(points);
    const face = Math.min(...points.map(([x]) => x));
    const front = each.colour ? points.map((here, i) => [here, points[(i + 1) % points.length]]).filter(([a, b]) => Math.abs(a[0] - face) < 0.01 && Math.abs(b[0] - face) < 0.01) : [];
    return s("g", { class: `layer of-${each.kind.replace(/\W+/g, "-")}` }, s("path", { d, class: "body" }),
      HATCH[each.kind] ? s("path", { d, fill: `url(#${HATCH[each.kind]})` }) : null,
      front.map(([a, b]) => s("line", { x1: a[0] + 1.5, y1: a[1], x2: b[0] + 1.5, y2: b[1], stroke: each.colour, "stroke-width": 3 })),
      s("path", { d, class: "rim" }));
  });
}

function breaks(view, at) {
  if (!at.broken) return null;
  const left = at.X(at.front) - 12, right = at.X(Math.max(...view.layers.flatMap((each) => each.areas.flat().map(([x]) => x)))) + 8, middle = (left + right) / 2;
  const wave = (y) => `M${left} ${y}H${middle - 7}L${middle - 2} ${y - 6}L${middle + 3} ${y + 6}L${middle + 8} ${y}H${right}`;
  return s("g", {}, s("path", { d: `M${left} ${at.low}H${right}V${at.low - BREAK}H${left}Z`, class: "gap" }), s("path", { d: wave(at.low), class: "thin ink" }), s("path", { d: wave(at.low - BREAK), class: "thin ink" }));
}

function point(view, at) {
  if (view.point === null) return null;
  const ends = [at.X(view.point), at.y(0) - 26, at.X(view.point), at.y(0) + 26];
  return [line(...ends, "nail-round"), line(...ends, "nail")];
}

function spread(places, pitch, low, high) {
  const found = [...places].map((y, at) => ({ y, at })).sort((a, b) => a.y - b.y);
  let floor = low;
  for (const each of found) { each.to = Math.max(each.y, floor); floor = each.to + pitch; }
  let over = Math.max(0, floor - pitch - high);
  for (const each of [...found].reverse()) { each.to = Math.min(each.to, high); high = each.to - pitch; }
  return over < 0 ? places : found.sort((a, b) => a.at - b.at).map((each) => each.to);
}

function heights(view, at, hand) {
  const x = at.X(at.front) - 22, front = at.X(at.front) - 4;
  const spans = view.beside.map((each) => ({ ...each, from: at.y(each.end), to: at.y(each.start) }));
  const lip = at.y(Math.max(view.bottom, ...view.rail.map(([, up]) => up))) - 6;
  const level = spread(spans.map((each) => (each.from + each.to) / 2), 16, 14, lip);
  const heavy = hand?.figure === view.border.figure;
  const far = Math.min(x - Math.max(30, ...view.beside.map((each) => widthOf(each.text))) - 22, at.X(Math.min(0, ...view.rail.map(([each]) => each))) - 14);
  const [top, foot] = [at.y(view.border.end), at.y(0)];
  return s("g", { class: "dims" },
    spans.map((each, i) => {
      const held = (hand?.name.startsWith("reveal") && each.text.startsWith("flat")) || (hand?.name.startsWith("groove") && each.text.startsWith("strip"));
      return s("g", { class: held ? "dim heavy" : "dim" }, line(x, each.from, x, each.to, "d"),
        [each.from, each.to].map((y) => [line(x - 3, y, x + 3, y, "d"), line(x + 5, y, front, y, "ext")]),
        Math.abs(level[i] - (each.from + each.to) / 2) > 4 ? line(x - 3, (each.from + each.to) / 2, x - 9, level[i], "ext") : null,
        label(x - 11, level[i] + 4, each.text, "small", "end"));
    }),
    line(far - 3, top, at.X(0), top, "ext"), line(far - 3, foot, Math.min(at.X(0), far + 40), foot, "ext"),
    dimension({ from: top, to: foot, at: far, text: view.border.text, upright: true, heavy }));
}

function depths(design, at, act) {
  const view = design.section, short = design.findings.some((each) => each.place === "stack.spare");
  return s("g", { class: "dims" }, view.depths.map((tier, number) => tier.map((each) => {
    const v = at.base + 20 + 24 * number, [from, to] = [at.X(each.start), at.X(each.end)];
    const spare = each.figure === "stack.spare";
    return s("g", { class: spare && short ? "spare" : "" }, line(from, at.base + 4, from, v + 4, "ext"), line(to, at.base + 4, to, v + 4, "ext"),
      dimension({ from, to, at: v, text: spare ? `${each.text} spare` : each.text, after: spare ? 400 : 0, before: spare ? 0 : 400, onText: { on: { click: () => act.figure(each.figure) } } }));
  })));
}

function inside(each, at, y) {
  let best = null;
  for (const area of each.areas) {
    const points = area.map(([x, mm]) => [at.X(x), at.y(mm)]), ys = points.map(([, v]) => v);
    const low = Math.min(...ys) + 3, high = Math.max(...ys) - 3;
    const level = Math.min(Math.max(y, low), Math.max(low, high)) + 0.001;
    const met = points.map((a, i) => [a, points[(i + 1) % points.length]]).filter(([a, b]) => (a[1] > level) !== (b[1] > level))
      .map(([a, b]) => a[0] + ((level - a[1]) * (b[0] - a[0])) / (b[1] - a[1])).sort((a, b) => a - b);
    if (met.length > 1 && (!best || Math.abs(level - y) < best[2])) best = [(met[0] + met[1]) / 2, level, Math.abs(level - y)];
  }
  return best ?? [at.X(0), y];
}

function names(view, at) {
  if (at.under) {
    const words = ["Front to back:", ...view.layers.map((each) => said(each).join(", "))];
    return s("g", { class: "names" }, words.map((text, i) => label(4, at.base + FOOT + 14 + 18 * i, text, i ? "small" : "small quiet", "start")));
  }
  const column = at.X(at.back) + 22, top = at.y(view.top) + 10;
  const room = Math.max(at.y(0) - top, Math.min(at.base - top - 8, 190));
  const tall = (words) => view.layers.reduce((sum, each) => sum + words(each).length * LEAD + 5, 0);
  const words = tall(said) <= room ? said : (each) => [short(each)], all = tall(words);
  const gap = Math.max(0, Math.min(12, (room - all) / view.layers.length));
  let y = top;
  return s("g", { class: "names" }, [...view.layers].reverse().map((each) => {
    const lines = words(each), here = y, [x, inner] = inside(each, at, here);
    y += lines.length * LEAD + 5 + gap;
    return s("g", {}, s("path", { d: `M${x} ${inner}L${Math.max(x, at.X(at.back)) + 6} ${here}H${column - 4}`, class: "leader" }), s("circle", { cx: x, cy: inner, r: 2.2, class: "dot" }),
      lines.map((text, i) => label(column, here + 4 + i * LEAD, text, i ? "small quiet" : "small", "start")));
  }));
}

function remarks(view, at) {
  if (!view.moulding) return null;
  return label(at.X(Math.min(...view.rail.map(([x]) => x))) + 7, at.base - 8, view.moulding, `small ${on(view.wood)}`, "start");
}

/** Return what is found of the stack, beside the rail where its depth is measured. */
function found(design, at) {
  if (at.under) return null;
  const column = at.X(at.back) + 22, wide = Math.max(120, at.room - column);
  const lines = design.findings.filter((each) => each.deep).flatMap((each) => wrapped(`△ ${each.says} ${each.remedy}`, wide).concat(""));
  return s("g", { class: "found" }, lines.map((text, i) => label(column, at.y(0) + 34 + LEAD * i, text, "small", "start")));
}

function wrapped(text, wide) {
  const lines = [""];
  for (const word of text.split(" ")) {
    const next = lines.at(-1) ? `${lines.at(-1)} ${word}` : word;
    if (widthOf(next) > wide) lines.push(word); else lines[lines.length - 1] = next;
  }
  return lines;
}
