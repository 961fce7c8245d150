// Says each slider's label to those who cannot see it: the handle that takes the
// keyboard has a value of its own but no name.

function nameSliders(panel) {
  for (const slider of panel.querySelectorAll(".widget-slider")) {
    const label = slider.querySelector(".widget-label")?.textContent?.trim();
    if (!label) continue;
    for (const part of slider.querySelectorAll(".noUi-handle, .widget-readout")) {
      if (part.getAttribute("aria-label") !== label) {
        part.setAttribute("aria-label", label);
      }
    }
  }
}

function render({ el }) {
  el.hidden = true;
  const seen = new MutationObserver(() => find());
  function find() {
    const panel = el.closest(".bakelab-panel");
    if (panel) nameSliders(panel);
  }
  const waiting = setInterval(() => {
    const panel = el.closest(".bakelab-panel");
    if (!panel) return;
    clearInterval(waiting);
    nameSliders(panel);
    seen.observe(panel, { childList: true, subtree: true });
  }, 100);
  return () => {
    clearInterval(waiting);
    seen.disconnect();
  };
}

export default { render };
