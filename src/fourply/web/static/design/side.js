// The figures beside the drawing: groups of rows, each figure with its working in place, what is here only.
import { h } from "./patch.js";
import { figures } from "./words.js";

const MARK = { fault: "wrong", caution: "caution", tight: "caution", note: "quiet" };

/** Return the group that a finding concerns: that of the figure at which it stands. */
function homeOf(finding, design) {
  const own = design.groups.findIndex((group) => group.rows.some((row) => row.figures.some((each) => each.path === finding.place)));
  if (own >= 0) return own;
  const first = finding.place.replace(/^(opening\.\d+|title)\./, "").split(".")[0];
  const titles = { mat: "Mats", frame: "Frame", moulding: "Frame", stack: "Frame", art: "Window", window: "Window", image: "Window", outer: "Borders", glazing: "Stack", backing: "Stack" };
  return Math.max(0, design.groups.findIndex((group) => group.key === (titles[first] ?? "Window")));
}

/** Return the groups; `state` holds what is in hand and which working is open. */
export function side(design, state, act) {
  const homes = design.findings.map((each) => homeOf(each, design));
  return design.groups.map((group, at) => h("section", { class: "group" },
    h("h2", {}, group.title, group.note ? h("span", { class: "small quiet note" }, ` ${group.note}`) : null),
    h("dl", {}, group.rows.map((row) => rowOf(row, design, state, act))),
    group.here.map((each) => h("p", { class: "here small" }, h("b", {}, "here only"), ": ", figures(each.says), `; ${each.of} has `, figures(each.under), ". ",
      h("button", { type: "button", class: "link", on: { click: () => act.back(each.rule) } }, `Back to ${each.of}`))),
    design.findings.map((each, i) => (homes[i] === at ? found(each, i, design, state, act) : null)),
  ));
}

/** Return what is found, and what would put it right at a press; of a change that is not kept only what is found. */
function found(each, number, design, state, act) {
  const offered = design === state.kept ? state.remedies.filter((one) => one.rule === each.rule && one.place === each.place) : [];
  return h("div", { class: "finding small", id: `finding-${number}`, tabindex: -1 },
    h("p", { class: MARK[each.level] ?? "" }, figures(each.says), each.remedy ? [" ", h("span", { class: "remedy" }, figures(each.remedy))] : null),
    offered.length ? h("p", { class: "offered" }, offered.map((one, i) => [i ? " " : "", h("button", { type: "button", on: { click: () => act.remedy(one.change) } }, figures(one.says))])) : null);
}

function rowOf(row, design, state, act) {
  const heavy = row.figures.some((each) => each.path === state.hand?.figure);
  const handle = design.handles.find((each) => row.figures.some((one) => one.path === each.figure));
  const open = row.figures.find((each) => each.path === state.open?.figure);
  return h("div", { class: `row${heavy ? " heavy" : ""}` },
    h("dt", {}, handle ? h("button", { type: "button", class: "label", title: `Set ${handle.says.toLowerCase()}`, on: { click: () => act.open(handle) } }, figures(row.label)) : figures(row.label)),
    h("dd", {}, row.figures.map((each, i) => [i ? row.join : "", h("button", { type: "button", class: "why", "aria-expanded": String(each.path === open?.path), title: `${row.label}: why?`, "data-figure": each.path, on: { click: () => act.why(each.path) } }, figures(each.text))])),
    open && state.open.terms ? h("dd", { class: "open" }, working(state.open, act)) : null);
}

function working(open, act) {
  return h("div", { class: "working" },
    h("table", {}, h("tbody", {}, open.terms.map((each) => h("tr", {}, h("td", {}, each.label), h("td", { class: "number" }, h("button", { type: "button", class: "why", on: { click: () => act.why(each.figure) } }, figures(each.value))), h("td", { class: "small quiet" }, figures(each.says)))),
      h("tr", { class: "sum" }, h("td", { colspan: 3, class: "total" }, open.arithmetic ? [figures(open.arithmetic), " = "] : "", h("b", {}, figures(open.value)))))),
    h("p", { class: "small quiet" }, figures(open.reason), open.source ? ` (${open.source})` : ""));
}
