// A picture that is chosen, or dropped on the drawing, is hung at once; what is in hand is kept first.

/** Send a form that hangs a picture when its file is chosen, or dropped on `drawing`; `ready` gives the version to send. */
export function hanging(section, drawing, ready) {
  if (!section) return;
  const hang = async (form) => { form.elements.version.value = await ready(); form.requestSubmit(); };
  for (const input of section.querySelectorAll("[data-hang]")) input.addEventListener("change", () => { if (input.files.length) hang(input.form); });
  drawing.addEventListener("dragover", (event) => { if ([...event.dataTransfer.types].includes("Files")) event.preventDefault(); });
  drawing.addEventListener("drop", (event) => {
    const input = section.querySelector("[data-hang]");
    if (!event.dataTransfer.files.length || !input) return;
    event.preventDefault();
    input.files = event.dataTransfer.files;
    hang(input.form);
  });
}
