// A column, the unit or the order put right is looked at again at once.
const form = document.getElementById("brought");
for (const field of form.elements) {
  if (field.matches("select, #header_row")) field.addEventListener("change", () => form.requestSubmit(document.querySelector('button[name="look"]')));
}
