import { ask, say } from "./link.js";

/** Sends the text of a file that was chosen. */
export const takeFiles = () => {
  const chosen = document.getElementById("take-file");
  chosen?.addEventListener("change", async () => {
    const [file] = chosen.files;
    if (!file) return;
    try {
      const { said, leave } = await ask("take", { name: file.name, text: await file.text() });
      if (leave) location.reload();
      else say(said);
    } catch (error) { say(error.message); }
  });
};

/** Puts a chosen file's text where it could have been pasted, and has it looked at. */
export const takePrintout = () => {
  const chosen = document.getElementById("printout-file");
  chosen?.addEventListener("change", async () => {
    const [file] = chosen.files;
    if (!file) return;
    const pasted = document.getElementById("printout");
    pasted.value = await file.text();
    pasted.form.requestSubmit();
  });
};
