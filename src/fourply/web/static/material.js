// One material: its sample follows what is typed, and a colour can be picked as well as typed.
const form = document.querySelector("#material"), samples = document.querySelector("[data-sample]");
let last = 0, waiting;

/** Ask for the sample of what is typed; what cannot be read yet leaves it as it is. */
async function follow() {
  const mine = ++last, fields = new URLSearchParams([...new FormData(form)].filter(([, value]) => typeof value === "string"));
  try {
    const answer = await fetch(samples.dataset.sample, { method: "POST", body: fields });
    const html = answer.status === 200 ? await answer.text() : null;
    if (mine === last && html !== null) samples.replaceChildren(document.createRange().createContextualFragment(html));
  } catch { /* fourply does not answer: the form says so when it is sent */ }
}

for (const field of form.querySelectorAll("[data-colour]")) {
  const picker = document.createElement("input"), both = document.createElement("span");
  picker.type = "color";
  picker.setAttribute("aria-label", `${field.dataset.colour}, picked`);
  both.className = "with-colour";
  field.replaceWith(both);
  both.append(field, picker);
  const show = () => { if (/^#[0-9a-f]{6}$/i.test(field.value)) picker.value = field.value.toLowerCase(); };
  show();
  field.addEventListener("input", show);
  picker.addEventListener("input", () => { field.value = picker.value; });
}

form.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(follow, 60);
});
form.addEventListener("keydown", (event) => {
  if (event.key === "Enter" && (event.ctrlKey || event.metaKey) && event.target.matches("textarea")) form.requestSubmit();
});
