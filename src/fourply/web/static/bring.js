// A column, the unit or the order put right is looked at again at once.
const form = document.getElementById("brought");
form.addEventListener("change", again);
for (const name of ["unit", "order"]) document.getElementById(name).addEventListener("change", again);
function again() {
  form.requestSubmit(document.querySelector('button[name="look"]'));
}
