import { ask, say } from "./link.js";

const byId = (id) => document.getElementById(id);
const setText = (id, text) => { const at = byId(id); if (at && at.textContent !== text) at.textContent = text; };

/** Puts the new HTML of a place: field by field where the same fields stand there, so that what is
    being typed, unfolded or looked at stays; as a whole where others do. */
export const morph = (place, html) => {
  if (!place || place.shown === html) return;
  place.shown = html;
  const made = document.createElement("template");
  made.innerHTML = html;
  const fields = (root) => [...root.querySelectorAll("[data-path]")];
  const paths = (root) => fields(root).map((field) => field.dataset.path).join("\n");
  const typing = place.contains(document.activeElement) ? document.activeElement : null;
  if (paths(place) !== paths(made.content)) {
    const id = typing?.id;
    const folds = new Map([...place.querySelectorAll("details[id]")].map((fold) => [fold.id, fold.open]));
    place.replaceChildren(made.content);
    for (const fold of place.querySelectorAll("details[id]")) if (folds.has(fold.id)) fold.open = folds.get(fold.id);
    if (id) byId(id)?.focus();
    return;
  }
  const news = new Map(fields(made.content).map((field) => [field.dataset.path, field]));
  for (const field of fields(place)) {
    const fresh = news.get(field.dataset.path);
    if (!fresh || field.isEqualNode(fresh)) continue;
    if (!typing || !field.contains(typing)) { field.replaceWith(fresh); continue; }
    // Only what is told of it: the words being typed are the reader's own.
    for (const told of field.querySelectorAll("[data-told]")) {
      const again = fresh.querySelector(`[data-told="${told.dataset.told}"]`);
      if (again && told.innerHTML !== again.innerHTML) told.innerHTML = again.innerHTML;
    }
    for (const control of field.querySelectorAll("[data-control]")) {
      const again = fresh.querySelector(`[data-control="${control.dataset.control}"]`);
      if (!again) continue;
      if (again.hasAttribute("aria-invalid")) control.setAttribute("aria-invalid", again.getAttribute("aria-invalid"));
      if (control !== typing && control.value !== again.value) control.value = again.value;
    }
  }
};

/** Looks at the sheet as it stands now. */
export const lookAtSheet = async () => {
  const answer = await fetch("sheet");
  if (!answer.ok) return null;
  const sheet = await answer.json();
  if (!sheet.open) { location.reload(); return null; }
  document.title = sheet.title;
  setText("title", sheet.title);
  setText("name", sheet.name);
  setText("kept", sheet.unsaved ? "– not saved yet" : "– saved");
  byId("undo").disabled = !sheet.undo;
  byId("redo").disabled = !sheet.redo;
  byId("save").disabled = !sheet.unsaved;
  byId("autosave").checked = sheet.autosave;
  byId("elsewhere").hidden = !sheet.elsewhere;
  const problems = byId("problems");
  if (problems.shown !== sheet.problems) { problems.innerHTML = sheet.problems.trim(); problems.shown = sheet.problems; }
  morph(byId("form"), sheet.form);
  const assumed = byId("assumed");
  if (assumed.shown !== sheet.assumed) { assumed.innerHTML = sheet.assumed; assumed.shown = sheet.assumed; }
  const text = byId("text");
  if (document.activeElement !== text && text.value !== sheet.text) text.value = sheet.text;
  if (sheet.said) say(sheet.said);
  return sheet;
};

/** Sends a form's fields when it is asked for. */
export const takeForms = () => {
  document.addEventListener("submit", async (event) => {
    const form = event.target.closest("form[data-act]");
    if (!form) return;
    event.preventDefault();
    const pressed = event.submitter;
    // Of the sheet's form one button counts; its fields were taken as they were filled in.
    if (form.id === "figures" && !pressed?.name) return;
    const fields = form.id === "figures" ? { [pressed.name]: pressed.value } : new FormData(form, pressed);
    try {
      const { said, leave } = await ask(form.dataset.act, fields);
      if (leave) { location.reload(); return; }
      if (said) say(said);
    } catch (error) { say(error.message); }
  });
};

/** Takes every field of the sheet's form as soon as it is filled in. */
export const takeFields = () => {
  document.addEventListener("change", async (event) => {
    const field = event.target.closest("#figures .field");
    if (!field || !event.target.dataset.control) return;
    const [value, doubt] = ["value", "doubt"].map((name) => field.querySelector(`[data-control="${name}"]`)?.value ?? "");
    try {
      const { said } = await ask("set", { path: field.dataset.path, value, doubt });
      if (said) say(said);
    } catch (error) { say(error.message); }
  });
};
