// Cells changed in their place: Enter or leaving a field keeps it, Esc has it as it was, up and down go along a column.
import { inHandAgain, send, showKept } from "./desk.js";

const rowOf = (field) => field.closest("tr[data-work]");

function tell(field, says) {
  const id = `says-${rowOf(field).dataset.work}-${field.name}`;
  let told = document.getElementById(id);
  if (!says) {
    told?.remove();
    field.removeAttribute("aria-invalid");
    field.removeAttribute("aria-describedby");
    return;
  }
  if (!told) {
    told = document.createElement("p");
    told.id = id;
    told.className = "says small wrong";
    told.setAttribute("role", "alert");
    field.after(told);
  }
  told.textContent = says;
  field.setAttribute("aria-invalid", "true");
  field.setAttribute("aria-describedby", id);
}

function show(row, answer) {
  row.dataset.version = answer.version;
  for (const field of row.querySelectorAll("[name]")) {
    const now = answer.fields[field.name];
    const untouched = field.value === field.dataset.was;
    field.dataset.was = now;
    if (untouched || field.dataset.sent !== undefined) field.value = now;
    delete field.dataset.sent;
  }
  const size = row.querySelector(".size");
  size.textContent = answer.why ? "cannot be made" : answer.size;
  size.title = answer.why;
}

const going = new Map();
async function keep(field) {
  if (field.value === field.dataset.was) { tell(field, ""); return; }
  const row = rowOf(field);
  const before = going.get(row) ?? Promise.resolve();
  const mine = before.then(() => keepNow(field, row));
  going.set(row, mine);
  await mine;
}
async function keepNow(field, row) {
  if (field.value === field.dataset.was) return;
  field.dataset.sent = field.value;
  const answer = await send(`/works/${row.dataset.work}/set`, { field: field.name, value: field.value, version: row.dataset.version });
  if (answer.ok) {
    tell(field, "");
    show(row, answer);
    showKept(answer);
    return;
  }
  delete field.dataset.sent;
  if (answer.version) row.dataset.version = answer.version;
  tell(field, answer.says ?? answer.detail);
}

document.addEventListener("focusout", (event) => { if (event.target.matches?.("table.edit [name]")) keep(event.target); });
document.addEventListener("change", (event) => {
  if (event.target.matches?.("table.edit select")) keep(event.target);
  if (event.target.matches?.("[data-submits]")) { inHandAgain(event.target); event.target.form.submit(); }
});
document.addEventListener("keydown", (event) => {
  const field = event.target;
  if (!field.matches?.("table.edit [name]")) return;
  if (event.key === "Escape") { field.value = field.dataset.was; tell(field, ""); event.preventDefault(); return; }
  const ways = { Enter: event.shiftKey ? -1 : 1, ArrowDown: 1, ArrowUp: -1 };
  if (!(event.key in ways) || (field.matches("select") && event.key !== "Enter")) return;
  event.preventDefault();
  const rows = [...document.querySelectorAll("table.edit tbody tr")];
  const next = rows[rows.indexOf(rowOf(field)) + ways[event.key]]?.querySelector(`[name="${field.name}"]`);
  if (next) { next.focus(); next.select?.(); } else keep(field);
});
