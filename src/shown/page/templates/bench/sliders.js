import { ask, newestOnly } from "./link.js";

const send = newestOnly((fields) => ask("try", fields));

/** Says beside a slider where it stands. */
const tell = (slider) => {
  const said = `${slider.value} ${slider.dataset.unit}`;
  slider.setAttribute("aria-valuetext", said);
  const output = slider.closest(".slider").querySelector("output");
  if (output) output.textContent = said;
};

/** Has every move of a slider tried at once. */
export const takeSliders = () => {
  const form = document.getElementById("sliders");
  if (!form) return;
  form.addEventListener("input", (event) => {
    if (event.target.type === "range") tell(event.target);
    send(new FormData(form));
  });
  document.getElementById("try-back").addEventListener("click", () => {
    send(new URLSearchParams({ wheel: form.elements.wheel.value }));
  });
};

/** Puts the sliders where the bench has them, unless one is under a finger. */
export const putSliders = (sliders) => {
  const form = document.getElementById("sliders");
  if (!form || !sliders) return;
  for (const select of [form.elements.wheel, document.getElementById("cut-wheel")]) {
    const names = sliders.wheels.join("\n");
    if (select.shown !== names && [...select.options].map((option) => option.text).join("\n") !== names) {
      const chosen = select.selectedIndex;
      select.replaceChildren(...sliders.wheels.map((name, place) => new Option(name, place)));
      select.selectedIndex = Math.max(0, Math.min(chosen, sliders.wheels.length - 1));
    }
    select.shown = names;
  }
  if (form.contains(document.activeElement) && document.activeElement.type === "range") return;
  form.elements.wheel.value = sliders.wheel;
  const speed = form.elements.launch_rpm;
  [speed.min, speed.max] = sliders.range_rpm;
  const stand = { launch_rpm: sliders.launch_rpm, metal: sliders.metal_percent, grip: sliders.grip_percent, sliding: sliders.sliding_percent, sd_rpm: sliders.sd_rpm };
  for (const [name, value] of Object.entries(stand)) {
    const slider = form.elements[name];
    if (Number(slider.value) !== value) slider.value = value;
    tell(slider);
  }
};
