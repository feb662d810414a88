// What every page shares: the keys, and the title block that says what was kept last.
const typing = (target) => target instanceof Element && target.closest("input:not([type=checkbox]):not([type=radio]), textarea, select, [contenteditable]");

const handlers = new Map();

/** Let a key do something on this page; `act` is called unless somebody is typing. */
export function onKey(key, act) {
  handlers.set(key, act);
}

/** Show what was kept last, from the answer of a change: {kept, undo, last}. */
export function showKept(answer) {
  const kept = document.querySelector("[data-kept]");
  if (!kept || !answer.strip) return;
  kept.innerHTML = answer.strip;
  kept.classList.remove("fresh");
  requestAnimationFrame(() => kept.classList.add("fresh"));
}

/** Send a form's worth of fields and return {ok, ...answer}; what cannot be reached is said, and nothing is lost. */
export async function send(address, fields) {
  try {
    const response = await fetch(address, { method: "POST", body: new URLSearchParams(fields), headers: { Accept: "application/json" } });
    const answer = await response.json();
    return { ...answer, ok: response.ok };
  } catch {
    return { ok: false, says: "fourply does not answer: nothing is kept yet; try again" };
  }
}

function submit(selector) {
  const button = document.querySelector(selector);
  if (button) button.click();
  return Boolean(button);
}

document.addEventListener("keydown", (event) => {
  if (event.defaultPrevented) return;
  const held = event.ctrlKey || event.metaKey;
  if (held && !event.altKey && event.key.toLowerCase() === "z" && !typing(event.target)) {
    if (submit(event.shiftKey ? "[data-redo]" : "[data-undo]")) event.preventDefault();
    return;
  }
  if (held || event.altKey || typing(event.target)) return;
  const act = handlers.get(event.key) ?? handlers.get(event.key.length === 1 ? event.key.toLowerCase() : event.key);
  if (act && act(event) !== false) event.preventDefault();
});

onKey("/", () => { location.href = "/find"; });
onKey("?", () => { location.href = "/keys"; });
for (const link of document.querySelectorAll("a[data-key]")) {
  onKey(link.dataset.key, () => {
    const field = link.getAttribute("href").startsWith("#") && document.querySelector(link.getAttribute("href"));
    if (field) field.focus();
    else link.click();
  });
}

// Parts of a page that take a moment are fetched when they come into sight.
const looked = new IntersectionObserver((entries) => {
  for (const { isIntersecting, target } of entries) {
    if (!isIntersecting) continue;
    looked.unobserve(target);
    fetch(target.dataset.fetch).then((response) => (response.ok ? response.text() : "")).then((html) => {
      const parts = document.createRange().createContextualFragment(html);
      target.replaceWith(parts);
      document.dispatchEvent(new CustomEvent("fetched"));
      watchFetches();
    }).catch(() => looked.observe(target));
  }
}, { rootMargin: "600px" });
function watchFetches() {
  for (const each of document.querySelectorAll("[data-fetch]:not([data-watched])")) {
    each.dataset.watched = "";
    looked.observe(each);
  }
}
watchFetches();

// The shows that are likely opened next are asked for while nothing else is done, so that they open at once.
const idle = window.requestIdleCallback ?? ((act) => setTimeout(act, 300));
for (const link of [...document.querySelectorAll("a[data-warm]")].slice(0, 3)) idle(() => fetch(link.href, { priority: "low" }).catch(() => undefined));

/** Have a field in hand again once the page that is asked for now is there. */
export function inHandAgain(field) { sessionStorage.setItem("in hand", field.id); }
const taken = sessionStorage.getItem("in hand");
if (taken) {
  sessionStorage.removeItem("in hand");
  document.getElementById(taken)?.focus();
}
