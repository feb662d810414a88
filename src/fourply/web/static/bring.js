// A column, the unit or the order put right is looked at again at once, and stays in hand.
import { inHandAgain } from "./desk.js";

const form = document.getElementById("brought");
const again = (field) => { inHandAgain(field); form.requestSubmit(document.querySelector('button[name="look"]')); };
for (const field of form.elements) {
  if (field.matches("select, #header_row")) field.addEventListener("change", () => again(field));
}
