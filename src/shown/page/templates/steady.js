(() => {
  const store = document.getElementById("steady-data");
  if (!store) return;
  const steps = JSON.parse(store.textContent);
  const byId = (id) => document.getElementById(id);
  const slider = byId("steady");
  slider.min = 0;
  slider.max = steps.length - 1;
  slider.step = 1;
  slider.value = Math.max(0, steps.findIndex((step) => step.now));
  const show = () => {
    const step = steps[slider.value];
    byId("say-steady").textContent = step.spread + (step.now ? ", as in the sheet" : "");
    byId("steady-says").textContent = step.says;
    slider.setAttribute("aria-valuetext", step.spread);
  };
  slider.addEventListener("input", show);
  show();
  byId("steady-box").hidden = false;
  byId("steady-told").classList.add("paper");
})();
