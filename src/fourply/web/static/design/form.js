// Every rule of the work: what holds, where it comes from, what it may be; a field is kept when it is left.
import { h, s } from "./patch.js";

/** Return the form of all rules; `wrong` is {rule, says} of a field that could not be read. */
export function form(rules, wrong, act) {
  const treatment = h("div", { class: "rule" }, h("label", { for: "rule-treatment" }, "Treatment"),
    h("select", { id: "rule-treatment", on: { change: (event) => act.treatment(event.target.value) } },
      ["", ...rules.treatments].map((each) => h("option", { value: each, selected: plain(each) === plain(rules.treatment) }, each || "of the show"))));
  return [treatment, ...rules.groups.map((group) => h("fieldset", {}, h("legend", {}, group.title), group.rules.map((rule) => field(rule, rules, wrong, act))))];
}

const plain = (text) => text.toLowerCase().replace(/[\s_-]+/g, " ").trim();
const swatch = (colour) => s("svg", { class: "swatch", width: 14, height: 14, "aria-hidden": "true" }, s("rect", { width: 14, height: 14, fill: colour, class: "thin" }));

function field(rule, rules, wrong, act) {
  const id = `rule-${rule.key}`, bad = wrong?.rule === rule.key;
  const keep = (text) => { if (text !== rule.text) act.rule(rule.key, text); };
  const chosen = rule.choices.find((each) => plain(each.name) === plain(rule.text));
  const input = rule.choices.length
    ? h("select", { id, "aria-invalid": bad ? "true" : false, on: { change: (event) => keep(event.target.value) } },
      (chosen ? [] : [{ name: rule.text }]).concat(rule.choices).map((each) => h("option", { value: each.name, selected: plain(each.name) === plain(rule.text) }, each.name)))
    : h("input", { id, value: rule.text, placeholder: rule.example, title: rule.example, autocomplete: "off", maxlength: 4000, "aria-invalid": bad ? "true" : false,
      on: { change: (event) => keep(event.target.value), keydown: (event) => { if (event.key === "Escape") { event.target.value = rule.text; event.target.blur(); } if (event.key === "Enter") event.target.blur(); } } });
  return h("div", { class: `rule${rule.own ? " own" : ""}` },
    h("label", { for: id }, chosen?.colour ? swatch(chosen.colour) : "", rule.says), input,
    rule.key === "shape" ? shapes(rules, act) : null,
    rule.key === "mats" ? boards(rule, rules, act) : null,
    bad ? h("p", { class: "small wrong", role: "alert" }, wrong.says) : null,
    rule.example && !rule.choices.length ? h("p", { class: "small quiet example" }, `such as ${rule.example}`) : null,
    rule.own ? h("p", { class: "small here" }, h("b", {}, "here only"), ` (${rules.of}: ${rule.under}) `, h("button", { type: "button", class: "link", on: { click: () => act.back(rule.key) } }, `Back to ${rules.of}`)) : null);
}

const SAMPLE = { arch: "arch", "round arch": "round arch", "elliptical arch": "elliptical arch rise 2 in", clipped: "clipped 1 in", rounded: "rounded 1/2 in", scooped: "scooped 3/4 in", stepped: "stepped 1/4 in + 1/4 in", polygon: "hexagon" };

function shapes(rules, act) {
  return h("div", { class: "picks" }, rules.shapes.map((each) => h("button", { type: "button", on: { click: () => act.rule("shape", SAMPLE[each] ?? each) } }, each)));
}

/** Return a row of colours for each mat: the board that it is cut from. */
function boards(rule, rules, act) {
  const mats = rule.text.split(" + ");
  return h("div", {}, mats.map((text, at) => {
    const name = text.split(/ @ |, /)[0].replace(/( flat)?( reverse)?$/, ""), rest = text.slice(name.length);
    const put = (board) => act.rule("mats", mats.map((each, i) => (i === at ? board + rest : each)).join(" + "));
    return h("div", { class: "colours", role: "group", "aria-label": at ? `Under-mat ${at}` : "Top mat" }, h("span", { class: "small quiet" }, at ? `under-mat ${at}` : "top mat"),
      rules.boards.map((each) => h("button", { type: "button", title: each.name, "aria-label": each.name, "aria-pressed": String(each.name === name), on: { click: () => put(each.name) } }, swatch(each.colour))));
  }));
}
