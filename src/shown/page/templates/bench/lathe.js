/** A drag shorter than this was a click, px. */
const LEAST_DRAG_PX = 4;
/** How finely a band is told that was drawn by hand: of its diameters, and of its depth. */
const STEPS = { mm: { mm: 1, diameter: 1, depth: 0.1, decimals: 1 }, in: { mm: 25.4, diameter: 0.05, depth: 0.005, decimals: 3 } };

const told = (value, step, { decimals }, unit) => `${Number((Math.round(value / step) * step).toFixed(decimals))} ${unit}`;

/** The band that a drag draws, as the form tells it: up and down from one diameter to the other,
    towards the clutch or the engine as deep. */
const bandOf = (from, to, { axis, pxPerMm }, unit) => {
  const step = STEPS[unit], length = (px) => px / pxPerMm / step.mm;
  const [inner, outer] = [from.y, to.y].map((y) => 2 * Math.max(0, length(axis - y))).sort((a, b) => a - b);
  const band = { from: told(inner, step.diameter, step, unit), to: told(outer, step.diameter, step, unit) };
  const depth = length(Math.abs(to.x - from.x));
  if (depth >= step.depth) {
    band.depth = told(depth, step.depth, step, unit);
    band.face = to.x > from.x ? "engine" : "clutch";
  }
  return band;
};

/** Has a band cut that is drawn on the half section with a mouse or a pen; a finger scrolls. */
export const takeLathe = () => {
  const form = document.getElementById("lathe"), part = document.getElementById("part-lathe");
  if (!form || !part) return;
  document.getElementById("cut-wheel").addEventListener("change", () => form.requestSubmit(form.querySelector('[name="as"]')));
  let tool = null;
  const here = (event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(tool.toDrawing);
  part.addEventListener("pointerdown", (event) => {
    const svg = event.target.closest?.("[data-axis] svg");
    if (!svg || event.button !== 0 || event.pointerType === "touch") return;
    event.preventDefault();
    const { axis, pxPerMm } = svg.parentElement.dataset;
    tool = { scale: { axis: Number(axis), pxPerMm: Number(pxPerMm) }, toDrawing: svg.getScreenCTM().inverse() };
    tool.from = here(event);
    tool.drawn = svg.appendChild(document.createElementNS("http://www.w3.org/2000/svg", "rect"));
    tool.drawn.setAttribute("class", "band");
    part.setPointerCapture(event.pointerId);
  });
  part.addEventListener("pointermove", (event) => {
    if (!tool) return;
    const from = tool.from, to = here(event);
    const box = { x: Math.min(from.x, to.x), y: Math.min(from.y, to.y), width: Math.abs(to.x - from.x), height: Math.abs(to.y - from.y) };
    for (const [name, value] of Object.entries(box)) tool.drawn.setAttribute(name, value.toFixed(1));
    if (box.height < LEAST_DRAG_PX) return;
    const unit = form.elements.from.value.trim().endsWith("in") ? "in" : "mm";
    tool.band = bandOf(from, to, tool.scale, unit);
    for (const [name, value] of Object.entries(tool.band)) form.elements[name].value = value;
  });
  const lifted = (cut) => {
    if (!tool) return;
    tool.drawn.remove();
    if (cut && tool.band) form.requestSubmit(form.querySelector("button"));
    tool = null;
  };
  part.addEventListener("pointerup", () => lifted(true));
  part.addEventListener("pointercancel", () => lifted(false));
};
