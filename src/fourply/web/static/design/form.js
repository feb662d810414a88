// Every rule of the work: what holds, where it comes from, what it may be; a field is kept when it is left.
import { data } from "./lines.js";
import { h, s } from "./patch.js";

/** Return the form of all rules; `wrong` is {rule, says} of a field that could not be read. */
export function form(rules, wrong, act) {
  const treatment = h("div", { class: "rule" }, h("label", { for: "rule-treatment" }, "Treatment"),
    h("select", { id: "rule-treatment", on: { change: (event) => act.treatment(event.target.value) } },
      ["", ...rules.treatments].map((each) => h("option", { value: each, selected: plain(each) === plain(rules.treatment) }, each || "of the show"))));
  return [treatment, ...rules.groups.map((group) => h("fieldset", {}, h("legend", {}, group.title), group.rules.map((rule) => field(rule, rules, wrong, act))))];
}

const plain = (text) => text.toLowerCase().replace(/[\s_-]+/g, " ").trim();
const swatch = (colour) => s("svg", { class: "swatch", width: 14, height: 14, "aria-hidden": "true" }, s("rect", { width: 14, height: 14, fill: colour }));

/** Return what a field does: left or Enter keeps what was typed, Escape puts back what was there. */
const typing = (was, keep) => ({
  change: (event) => keep(event.target.value),
  keydown: (event) => {
    if (event.key === "Escape") event.target.value = was;
    if (event.key === "Escape" || event.key === "Enter") event.target.blur();
  },
});

const alike = (one, two) => plain(one) === plain(two);

/** Return the options of a choice, what it is now among them even where it is none of these. */
const options = (choices, now) => (choices.some((each) => alike(each.name, now)) ? [] : [{ name: now }]).concat(choices)
  .map((each) => h("option", { value: each.name, selected: alike(each.name, now) }, each.name));

function field(rule, rules, wrong, act) {
  const id = `rule-${rule.key}`, bad = wrong?.rule === rule.key;
  const keep = (text) => { if (text !== rule.text) act.rule(rule.key, text); };
  const chosen = rule.choices.find((each) => plain(each.name) === plain(rule.text));
  const input = rule.choices.length
    ? h("select", { id, "aria-invalid": bad ? "true" : false, on: { change: (event) => keep(event.target.value) } },
      options(rule.choices, rule.text))
    : h("input", { id, value: rule.text, placeholder: rule.example, title: rule.example, autocomplete: "off", maxlength: 4000, "aria-invalid": bad ? "true" : false,
      on: typing(rule.text, keep) });
  const example = rule.example && !rule.choices.length ? h("p", { class: "small quiet example" }, `such as ${rule.example}`) : null;
  return h("div", { class: `rule${rule.own ? " own" : ""}` },
    rule.parts ? [h("p", { class: "said" }, rule.says), parts(rule, act), asText(rule, id, input, example)] : [h("label", { for: id }, chosen?.colour ? swatch(chosen.colour) : "", rule.says), input],
    rule.key === "shape" ? shapes(rules, act) : null,
    rule.parts || !rule.choices.some((each) => each.colour) ? null : colours(rule, keep),
    bad ? h("p", { class: "small wrong", role: "alert" }, wrong.says) : null,
    rule.parts ? null : example,
    rule.own ? h("p", { class: "small here" }, h("b", {}, "here only"), ` (${rules.of}: ${rule.under}) `, h("button", { type: "button", class: "link", on: { click: () => act.back(rule.key) } }, `Back to ${rules.of}`)) : null);
}

/** Return a rule made of parts as a show file writes it, for who would rather type it. */
const asText = (rule, id, input, example) => h("details", { class: "as-text" }, h("summary", { class: "small" }, "As text"), h("label", { class: "unseen", for: id }, `${rule.says} as text`), input, example);

/** Return every shape as a small picture of itself to pick. */
function shapes(rules, act) {
  return h("div", { class: "picks", role: "group", "aria-label": "Shapes to pick" }, rules.shapes.map((each) => h("button", { type: "button", title: each.text, on: { click: () => act.rule("shape", each.text) } },
    s("svg", { class: "shape", viewBox: "-74 -60 148 120", width: 37, height: 30, "aria-hidden": "true" }, s("path", { d: data(each.outline) })), each.name)));
}

/** Return a row for each part of a rule, with what can be said of it, and a button for each that can be added. */
function parts(rule, act) {
  const { each, more } = rule.parts;
  return h("div", { class: "parts" }, each.map((part, at) => h("div", { class: "part", role: "group", "aria-label": part.says },
    h("div", { class: "part-head" }, h("span", { class: "small" }, part.says),
      part.less ? h("button", { type: "button", class: "link", "aria-label": `Take away ${part.says}`, on: { click: () => act.part({ rule: rule.key, act: "less", at }) } }, "take away") : null),
    part.members.map((member) => said(rule, member, at, act)))),
  more.length ? h("p", { class: "more" }, more.map(({ name, says }) => h("button", { type: "button", class: "link", on: { click: () => act.part({ rule: rule.key, act: "more", name }) } }, `Add ${says}`))) : null);
}

function said(rule, member, at, act) {
  const id = `part-${rule.key}-${at}-${member.key}`;
  const keep = (text) => { if (text !== member.text) act.part({ rule: rule.key, act: "set", at, name: member.key, text }); };
  const chosen = member.choices.find((each) => each.name === member.text);
  const input = member.choices.length
    ? h("select", { id, on: { change: (event) => keep(event.target.value) } }, options(member.choices, member.text))
    : h("input", { id, type: member.colour ? "color" : "text", value: member.text, placeholder: member.example, autocomplete: "off", maxlength: 400,
      on: typing(member.text, keep) });
  return h("div", { class: "member" }, h("label", { for: id }, chosen?.colour ? swatch(chosen.colour) : "", member.says), input,
    member.key === "board" ? colours(member, keep) : null);
}

/** Return boards, mouldings or fillets as a row of colours to pick. */
function colours(member, keep) {
  return h("div", { class: "colours", role: "group", "aria-label": `Colours for ${member.says}, now ${member.text}` },
    member.choices.filter((each) => each.colour).map((each) => h("button", { type: "button", title: each.name, "aria-label": each.name, "aria-pressed": String(alike(each.name, member.text)), on: { click: () => keep(each.name) } }, swatch(each.colour))));
}
