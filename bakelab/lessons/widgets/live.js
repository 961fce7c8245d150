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
  let stop = () => {};
  const wait = whenIn(el, ".bakelab-panel", (panel) => {
    panel.tabIndex = -1;
    panel.setAttribute("role", "group");
    panel.setAttribute("aria-label", model.get("job"));
    keepKeys(panel);
    stop = comeIn(panel, panel);
  });
  return () => { wait(); stop(); clearTimeout(timer); };
}

export default { render };
