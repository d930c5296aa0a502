import { announce } from "./link.js";

/** Puts an answer in its place; what is unfolded and scrolled stays so. */
export const place = ({ id, standing, html, said }) => {
  const part = document.getElementById(`part-${id}`);
  if (!part) return;
  part.dataset.standing = standing;
  part.setAttribute("aria-busy", String(standing === "computing"));
  if (standing === "fresh" && part.shown !== html) {
    const scrolled = part.querySelector(".scroll")?.scrollLeft ?? 0;
    part.innerHTML = html;
    part.shown = html;
    const again = part.querySelector(".scroll");
    if (again) again.scrollLeft = scrolled;
    part.dispatchEvent(new CustomEvent("placed", { bubbles: true, detail: { id } }));
  }
  if (said) announce(said);
};
