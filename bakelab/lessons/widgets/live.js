// Words that a screen reader speaks once the hand rests; everyone sees them at once.
function render({ model, el }) {
  const seen = document.createElement("p");
  const spoken = document.createElement("p");
  seen.className = "bakelab-said";
  seen.setAttribute("aria-hidden", "true");
  spoken.className = "bakelab-unseen";
  spoken.setAttribute("role", "status");
  spoken.setAttribute("aria-live", "polite");
  el.append(seen, spoken);
  let timer;
  function draw() {
    seen.textContent = model.get("text");
    clearTimeout(timer);
    timer = setTimeout(() => { spoken.textContent = model.get("text"); }, 700);
  }
  model.on("change:text", draw);
  draw();
  // Arrow keys belong to the sliders here, not to the notebook around them.
  const wait = setInterval(() => {
    const panel = el.closest(".bakelab-panel");
    if (!panel) return;
    clearInterval(wait);
    if (panel.dataset.keysKept) return;
    panel.dataset.keysKept = "1";
    panel.addEventListener("keydown", (event) => {
      const free = event.ctrlKey || event.altKey || event.metaKey;
      const runs = event.key === "Enter" && event.shiftKey;
      if (!free && !runs) event.stopPropagation();
    });
  }, 100);
  return () => { clearInterval(wait); clearTimeout(timer); };
}

export default { render };
