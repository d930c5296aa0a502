import { ask, listen, newestOnly, say } from "./link.js";
import { place } from "./parts.js";
import { lookAtSheet, takeFields, takeForms } from "./sheet.js";
import { putSliders, takeSliders } from "./sliders.js";
import { takeFiles, takePrintout } from "./files.js";
import { takeLathe } from "./lathe.js";

for (const only of document.querySelectorAll(".needs-script")) only.hidden = false;
document.documentElement.classList.add("has-script");
takeForms();
takeFiles();
if (document.getElementById("form")) {
  takeFields();
  takeSliders();
  takePrintout();
  takeLathe();
  const look = newestOnly(async () => putSliders((await lookAtSheet())?.sliders));
  listen(({ sheet, sliders, parts }) => {
    parts.forEach(place);
    if (sliders) putSliders(sliders);
    if (sheet) look({});
  });
  document.getElementById("autosave").addEventListener("change", (event) => {
    ask("autosave", event.target.checked ? { on: "on" } : {}).catch((error) => say(error.message));
  });
  const typed = newestOnly((fields) => ask("text", fields));
  document.getElementById("text").addEventListener("change", (event) => typed({ text: event.target.value }));
  window.addEventListener("focus", () => ask("look", {}).catch(() => {}));
  document.addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    const inText = event.target.matches?.("textarea, input:not([type=range]):not([type=checkbox]):not([type=radio])");
    if (key === "s") { event.preventDefault(); document.activeElement?.blur?.(); ask("save", {}).then(({ said }) => say(said), (error) => say(error.message)); }
    else if (!inText && key === "z") { event.preventDefault(); ask(event.shiftKey ? "redo" : "undo", {}); }
    else if (!inText && key === "y") { event.preventDefault(); ask("redo", {}); }
  });
}
