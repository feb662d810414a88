// The wall by keys and by hand: arrows walk the base lines, X selects, Shift takes more, Enter opens.
import { onKey, send } from "./desk.js";

const works = () => [...document.querySelectorAll(".hung[data-work]")];
const box = (work) => work.querySelector("input[type=checkbox]");
const open = (work) => work.querySelector("a.open");
const here = () => document.activeElement?.closest?.(".hung[data-work]");
const bulk = document.getElementById("bulk");

function chosen() { return works().filter((work) => box(work).checked); }

function told() {
  if (!bulk) return;
  const found = chosen();
  for (const work of works()) work.classList.toggle("chosen", box(work).checked);
  const numbers = found.map((work) => work.querySelector(".no").textContent);
  const few = numbers.length > 8 ? `${numbers.length} works` : numbers.join(", ");
  bulk.querySelector("[data-selected]").textContent = found.length ? `${few} selected` : "Nothing selected";
  bulk.querySelector("[data-hint]").hidden = found.length > 0;
  bulk.querySelector("[data-change]").disabled = !found.length;
  const tickets = bulk.querySelector("[data-tickets]");
  tickets.textContent = found.length ? "Tickets of these" : "Tickets of all";
  tickets.href = tickets.dataset.tickets + (found.length ? `?work=${found.map((work) => work.dataset.work).join(",")}` : "");
  sessionStorage.setItem(`chosen ${location.pathname}`, found.map((work) => work.dataset.work).join(" "));
}

function again() {
  const before = new Set((sessionStorage.getItem(`chosen ${location.pathname}`) ?? "").split(" "));
  for (const work of works()) if (before.has(work.dataset.work)) box(work).checked = true;
  told();
}

// where a work stands: the bottom of its picture is its base line
function place(work) {
  const rect = open(work).getBoundingClientRect();
  return { left: rect.left, middle: rect.left + rect.width / 2, base: Math.round(rect.bottom + scrollY) };
}

function nextTo(work, way) {
  const all = works();
  const at = all.indexOf(work);
  if (way === "ArrowLeft") return all[at - 1];
  if (way === "ArrowRight") return all[at + 1];
  if (way === "Home") return all[0];
  if (way === "End") return all.at(-1);
  const from = place(work);
  const down = way === "ArrowDown";
  const lines = all.map((each) => [each, place(each)]).filter(([, p]) => (down ? p.base > from.base + 2 : p.base < from.base - 2));
  if (!lines.length) return undefined;
  const line = down ? Math.min(...lines.map(([, p]) => p.base)) : Math.max(...lines.map(([, p]) => p.base));
  return lines.filter(([, p]) => Math.abs(p.base - line) < 3).sort((a, b) => Math.abs(a[1].middle - from.middle) - Math.abs(b[1].middle - from.middle))[0][0];
}

for (const way of ["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Home", "End"]) {
  onKey(way, (event) => {
    const now = here();
    const target = now ? nextTo(now, way) : document.activeElement === document.body || document.activeElement?.id === "main" ? works()[0] : undefined;
    if (!target) return false;
    if (event.shiftKey && now) { box(now).checked = true; box(target).checked = true; told(); }
    open(target).focus();
    return true;
  });
}
onKey("x", () => {
  const work = here();
  if (!work) return false;
  box(work).checked = !box(work).checked;
  told();
  return true;
});
onKey("n", () => { document.getElementById("new-size")?.focus(); });
onKey("Escape", () => { for (const work of chosen()) box(work).checked = false; told(); });

document.addEventListener("change", (event) => { if (event.target.name === "work") told(); });
document.addEventListener("fetched", again);

bulk?.querySelector("[data-none]").addEventListener("click", () => { for (const work of chosen()) box(work).checked = false; told(); });
bulk?.querySelector("[data-all]").addEventListener("click", () => { for (const work of works()) box(work).checked = true; told(); });
bulk?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const answer = await send(bulk.action, new FormData(bulk));
  const says = bulk.querySelector("[data-says]");
  says.textContent = answer.says;
  says.classList.toggle("wrong", !answer.ok);
  if (answer.ok) location.assign(`${location.pathname}?says=${encodeURIComponent(answer.says)}`);
});

const form = document.getElementById("new-form");
form?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const answer = await send(form.action, new FormData(form));
  if (answer.ok) {
    location.hash = "";
    location.assign(answer.to.replace("#", `?at=${Date.now()}#`));
    return;
  }
  const says = document.getElementById("new-says");
  says.textContent = answer.says;
  says.className = "small wrong";
  form.elements.size.setAttribute("aria-invalid", "true");
  form.elements.size.focus();
});

again();
