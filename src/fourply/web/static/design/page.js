// The design page: what is in hand, what is asked of the server, what is kept. Every figure comes from the server.
import { onKey, showKept } from "../desk.js";
import { Latest, refusal, send } from "./asking.js";
import { form } from "./form.js";
import { centre, front, place } from "./front.js";
import { data } from "./lines.js";
import { h, lay, s } from "./patch.js";
import { hanging } from "./picture.js";
import { placeSection, section } from "./section.js";
import { side } from "./side.js";
import { figures } from "./words.js";

const find = (selector) => document.querySelector(selector);
const page = find(".design"), address = `${page.dataset.address}.json`;
const views = { front: find("[data-front]"), section: find("[data-section]"), groups: find("[data-groups]"), form: find("[data-form]") };
const typed = find("[data-typed]"), field = find("#typed");
const start = JSON.parse(find("#design-data").textContent);

const state = { kept: start, shown: start, hand: null, edit: null, drag: null, held: null, open: null, wrong: null, typing: null, remedies: [] };
const latest = new Latest(address, resolved);
let keeping = Promise.resolve();

// ── drawing ──────────────────────────────────────────────────────────────────────────────────────────────────────

const narrow = matchMedia("(max-width: 1180px)");

/** Return the room of a drawing; one above the other each takes the height that its width asks for. */
const room = (svg) => ({ width: svg.clientWidth, height: narrow.matches ? 760 : svg.clientHeight, fixed: !narrow.matches });

function tall(svg, height) {
  if (!state.drag) svg.style.height = narrow.matches ? `${Math.ceil(height)}px` : "";
}

function draw() {
  const { shown } = state;
  lay(find("[data-treatment]"), treatmentOf(shown));
  say("[data-wrong]", shown.faults.map((each) => `${each.found}: ${each.expected}`).join("; "));
  lay(find("[data-hand]"), inHand());
  lay(views.groups, side(shown, state, act));
  if (!shown.front) { lay(views.front, []); lay(views.section, []); return; }
  const at = place(shown, room(views.front), state.held?.front);
  state.at = at;
  tall(views.front, at.height);
  lay(views.front, front(shown, at, state.hand, act, state.kept.pictures));
  find("[data-front-scale]").textContent = at.scale.says;
  const below = placeSection(shown.section, room(views.section), state.held?.section);
  state.below = below;
  tall(views.section, below.height);
  lay(views.section, section(shown, below, state.hand, act));
  find("[data-section-scale]").textContent = below.scale.says;
  if (state.typing) stand();
}

function drawForm() {
  if (find("[data-rules]").open) lay(views.form, form(state.kept.rules, state.wrong, act));
}

function treatmentOf(shown) {
  const name = shown.treatment || "as the show";
  const own = shown.groups.flatMap((group) => group.here.map((each) => each.rule.replace(/_/g, " ")));
  if (!own.length) return [name];
  return [`${name}, `, h("b", {}, own.length === 1 ? "one change" : `${own.length} changes`), `: ${own.join(", ")}`];
}

function inHand() {
  const { hand, kept } = state;
  const { fine, coarse } = kept.steps;
  if (!hand) return [h("span", { class: "quiet" }, "Take hold of a handle, or Tab to it")];
  const keys = hand.way[0] ? "left, right" : "up, down";
  return [h("b", {}, hand.says), h("span", { class: "quiet" }, hand.outline),
    h("span", { class: "quiet about" }, `${keys} `, figures(fine), ", with Shift ", figures(coarse), ", or type ", figures(current(hand.name)?.value ?? hand.value))];
}

const before = (name) => state.kept.handles.find((each) => each.name === name)?.now ?? null;
const current = (name) => state.shown.handles.find((each) => each.name === name);

function say(selector, text) {
  const element = find(selector);
  element.hidden = !text;
  if (text) lay(element, figures(text)); else element.textContent = "";
}

/** Ask what would put right what is found once the hand rests: each is tried on the work, and a drag would wait for that. */
function askRemedies() {
  const { kept } = state;
  clearTimeout(state.asking);
  if (state.remediesOf === kept) return;
  state.remedies = [];
  if (!kept.findings.length) return;
  state.asking = setTimeout(async () => {
    const answer = await send(address.replace(/design\.json$/, "remedies.json"), "GET");
    if (!answer.ok || state.kept !== kept) return;
    state.remedies = answer.remedies;
    state.remediesOf = kept;
    if (!state.drag) draw();
  }, 1200);
}

// ── what is asked and kept ───────────────────────────────────────────────────────────────────────────────────────

function resolved(answer, change) {
  if (!answer.ok) { state.refused = refusal(answer); say("[data-wrong]", state.refused); return; }
  if (state.edit !== change) return;
  state.shown = answer;
  const now = state.hand && current(state.hand.name);
  if (now) state.hand = now;
  draw();
}

function ask(edit) {
  clearTimeout(state.asking);
  state.edit = edit;
  latest.ask(edit);
}

/** Let go of what is not kept. */
function forget() {
  latest.forget();
  state.edit = null;
  state.held = null;
  state.shown = state.kept;
  if (state.hand) state.hand = current(state.hand.name) ?? null;
  askRemedies();
  draw();
}

/** Keep a change; one after the other, each from the version that the one before left. */
function keep(change, wrong = () => {}) {
  const mine = change;
  keeping = keeping.then(async () => {
    const answer = await send(address, "PUT", mine, state.kept.version);
    if (answer.ok) { taken(answer); return; }
    if (answer.status === 412) { await stale(mine); return; }
    latest.forget();
    wrong(refusal(answer));
    if (!state.typing) { forget(); say("[data-wrong]", refusal(answer)); }
  });
  return keeping;
}

function taken(answer) {
  latest.forget();
  state.kept = answer;
  state.shown = answer;
  state.edit = null;
  state.wrong = null;
  if (!state.drag) state.held = null;
  if (state.hand) state.hand = current(state.hand.name) ?? null;
  showKept(answer);
  showVariants(answer.variants);
  for (const each of document.querySelectorAll("[data-pictures] [name=version]")) each.value = answer.version;
  askRemedies();
  draw();
  drawForm();
}

/** Show the strip anew, unless somebody is about to do something there: what is pressed must not be replaced. */
function showVariants(html) {
  const strip = find("[data-variants]");
  if (html && !strip.matches(":active") && !strip.querySelector("[data-sent]")) strip.outerHTML = html;
}

async function stale(change) {
  const theirs = await send(address, "GET");
  if (!theirs.ok) { say("[data-wrong]", refusal(theirs)); return; }
  const mine = state.edit === change ? state.shown : null;
  const value = change.handle && mine?.handles.find((each) => each.name === change.handle)?.value;
  const again = value ? { handle: change.handle, text: value, alone: change.alone ?? false } : change;
  const yours = mine ?? { ...(await send(address, "POST", again)) };
  const done = () => { find("[data-stale]").hidden = true; };
  const choose = (act) => () => { done(); act(); };
  const column = (title, says, shown, name, act) => h("div", {}, h("h2", {}, title), h("p", { class: "small" }, figures(says)), small(shown), h("button", { type: "button", class: name, on: { click: choose(act) } }, title === "Yours" ? "Keep yours over it" : "Take theirs"));
  lay(find("[data-stale]"), [h("p", { role: "alert" }, "This work was changed elsewhere meanwhile. Both are here; nothing is lost."),
    h("div", { class: "both" }, column("Theirs", told(theirs, change), theirs, "", () => taken(theirs)),
      column("Yours", yours.ok === false ? refusal(yours) : told(yours, change), yours, "next", () => { state.kept = { ...state.kept, version: theirs.version }; keep(again); }))]);
  find("[data-stale]").hidden = false;
  find("[data-stale] button").focus();
}

function told(shown, change) {
  const handle = shown.handles?.find((each) => each.name === change.handle);
  return handle ? `${handle.says} ${handle.value}` : (shown.done || Object.entries(change.rules ?? {}).map(([key, text]) => `${key.replace(/_/g, " ")} ${text}`).join(", ") || shown.treatment);
}

/** Return a small front view on its base line. */
function small(shown) {
  if (!shown.front) return null;
  const { width, height, fills } = shown.front;
  return s("svg", { class: "little", viewBox: `-2 -2 ${width + 4} ${height + 4}`, width: (width / 25.4) * 6, height: (height / 25.4) * 6, "aria-hidden": "true" },
    fills.map((each) => s("path", { d: data(each.steps), fill: each.colour, "fill-rule": "evenodd" })), s("path", { d: `M0 ${height}H${width}`, class: "edge" }));
}

// ── what a hand does ─────────────────────────────────────────────────────────────────────────────────────────────

const ARROWS = { ArrowUp: [0, -1], ArrowDown: [0, 1], ArrowLeft: [-1, 0], ArrowRight: [1, 0] };

const act = {
  down(event, handle) {
    if (event.button) return;
    event.preventDefault();
    const group = event.currentTarget;
    group.focus({ preventScroll: true });
    group.setPointerCapture(event.pointerId);
    const { k } = state.at.scale, middle = centre(state.shown);
    state.held = { front: { scale: state.at.scale, at: [state.at.x + middle[0] * k, state.at.y + middle[1] * k] }, section: { scale: state.below.scale } };
    state.drag = { x: event.clientX, y: event.clientY, k, handle };
    group.onpointermove = (move) => dragged(move);
    group.onpointerup = group.onpointercancel = (up) => {
      group.onpointermove = group.onpointerup = group.onpointercancel = null;
      const { edit } = state;
      state.drag = null;
      if (edit?.by_mm && up.type === "pointerup") keep(edit); else forget();
    };
  },
  take(handle) {
    state.hand = current(handle.name) ?? handle;
    draw();
  },
  leave(event, handle) {
    if (state.drag || typed.contains(event.relatedTarget)) return;
    if (state.edit?.handle === handle.name) keep(state.edit);
    if (state.hand?.name === handle.name && !state.typing) { state.hand = null; draw(); }
  },
  key(event, handle) {
    if (event.ctrlKey || event.metaKey) return;
    const arrow = ARROWS[event.key];
    if (arrow) {
      const way = arrow[0] * handle.way[0] + arrow[1] * handle.way[1];
      event.preventDefault();
      if (!way) return;
      const steps = (state.edit?.handle === handle.name ? (state.edit.steps ?? 0) : 0) + way * (event.shiftKey ? state.kept.steps.times : 1);
      ask({ handle: handle.name, steps, alone: event.altKey, seen_mm: before(handle.name) });
      return;
    }
    if (event.key === "Enter") { event.preventDefault(); if (state.edit) keep(state.edit); else act.open(handle); }
    if (event.key === "Escape" && (state.edit || state.drag)) { event.preventDefault(); state.drag = null; forget(); }
    if (/^[\d.+]$/.test(event.key)) { event.preventDefault(); act.open(handle, event.key); }
  },
  open(handle, first) {
    const now = current(handle.name) ?? handle;
    state.hand = now;
    state.typing = { handle: now.name, was: now.value };
    typed.hidden = false;
    typed.querySelector("label").textContent = `${now.says}, ${now.outline}`;
    typed.querySelector("p").textContent = "";
    field.value = first ?? now.value;
    field.removeAttribute("aria-invalid");
    draw();
    field.focus();
    if (!first) field.select();
  },
  async why(figure) {
    if (state.open?.figure === figure) { state.open = null; draw(); return; }
    const answer = await send(`${address.replace(/design\.json$/, "why.json")}`, "POST", { ...(state.edit ?? {}), figure });
    const row = state.shown.groups.some((group) => group.rows.some((each) => each.figures.some((one) => one.path === figure)));
    state.open = answer.ok ? { ...answer, figure: row ? figure : state.open?.figure ?? figure } : null;
    if (!answer.ok) say("[data-wrong]", refusal(answer));
    draw();
  },
  figure(path) {
    const handle = state.shown.handles.find((each) => each.figure === path);
    if (handle) act.open(handle); else if (path) act.why(path);
  },
  back: (rule) => keep({ back: [rule] }),
  remedy: (change) => keep(change),
  finding(number) {
    const told = find(`#finding-${number}`);
    told?.scrollIntoView({ block: "center", behavior: "instant" });
    told?.focus({ preventScroll: true });
  },
  treatment: (name) => keep({ treatment: name }),
  part: (part) => keep({ part }, (says) => { state.wrong = { rule: part.rule, says }; drawForm(); }),
  rule(key, text) {
    keep({ rules: { [key]: text } }, (says) => { state.wrong = { rule: key, says }; drawForm(); });
  },
};

function dragged(move) {
  const { drag } = state;
  if (!drag) return;
  const way = drag.handle.way, px = (move.clientX - drag.x) * way[0] + (move.clientY - drag.y) * way[1];
  ask({ handle: drag.handle.name, by_mm: px / drag.k, alone: move.altKey, seen_mm: before(drag.handle.name) });
}

/** Put the field for a typed value beside its handle. */
function stand() {
  const handle = current(state.typing.handle);
  if (!handle) return;
  const { k } = state.at.scale, box = views.front.getBoundingClientRect();
  const above = box.top - views.front.parentElement.getBoundingClientRect().top;
  const x = state.at.x + handle.at[0] * k, y = state.at.y + handle.at[1] * k;
  const level = handle.way[0] !== 0; // beside its dimension, so that what it changes stays in sight
  const left = level ? x - 66 : 0, top = level ? y + 22 : y - handle.way[1] * 34 - 22;
  typed.style.left = `${Math.min(Math.max(0, left), box.width - 134)}px`;
  typed.style.top = `${above + Math.min(Math.max(0, top), box.height - 44)}px`;
}

function shut(focus) {
  const { typing } = state;
  state.typing = null;
  typed.hidden = true;
  if (focus && typing) find(`[data-handle="${typing.handle}"]`)?.focus({ preventScroll: true });
  draw();
}

function settle() {
  const { typing } = state, text = field.value.trim();
  if (!typing) return;
  if (!text || text === typing.was) { shut(true); return; }
  const change = { handle: typing.handle, text };
  let refused = false;
  keep(change, (says) => {
    refused = true;
    field.setAttribute("aria-invalid", "true");
    lay(typed.querySelector("p"), figures(says));
    field.focus();
  }).then(() => { if (!refused && state.typing === typing) shut(true); });
}

typed.addEventListener("submit", (event) => { event.preventDefault(); settle(); });
field.addEventListener("keydown", (event) => { if (event.key === "Escape") { event.preventDefault(); shut(true); } });
field.addEventListener("blur", () => setTimeout(() => { if (state.typing && document.activeElement !== field && field.getAttribute("aria-invalid") !== "true") settle(); }));

find("[data-rules]").addEventListener("toggle", drawForm);
// What is in hand is kept before a variant is changed, and the version that it left is the one that is sent.
page.addEventListener("submit", async (event) => {
  const form = event.target.closest("[data-variants] form");
  if (!form || form.dataset.sent) return;
  event.preventDefault();
  const { submitter } = event;
  form.dataset.sent = "now";
  await keeping;
  form.elements.version.value = state.kept.version;
  setTimeout(() => form.requestSubmit(submitter)); // not within the event: a form that is being sent is not sent again
});
hanging(find("[data-pictures]"), views.front, async () => { await keeping; return state.kept.version; });
for (const letter of "abcd") onKey(letter, () => { const take = find(`[data-variant="${letter}"]:not([disabled])`); take?.click(); return Boolean(take); });
onKey("v", () => { find("#variant-new")?.focus(); });
onKey("e", () => { find("[data-handle]")?.focus(); });
let width = 0;
new ResizeObserver(([{ contentRect }]) => { if (Math.abs(contentRect.width - width) > 0.5) { width = contentRect.width; draw(); } }).observe(page.querySelector(".views"));
addEventListener("resize", draw);
document.fonts?.ready.then(draw);
draw();
askRemedies();
