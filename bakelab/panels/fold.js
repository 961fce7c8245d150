// A part of the answer that opens and closes and stays as it was left.

function render({ model, el }) {
  const summary = document.createElement("summary");
  const content = document.createElement("div");
  const details = document.createElement("details");
  details.append(summary, content);
  el.classList.add("bakelab-fold");
  el.append(details);

  function draw() {
    summary.textContent = model.get("title");
    content.innerHTML = model.get("html");
    details.hidden = !model.get("html");
  }

  model.on("change:title", draw);
  model.on("change:html", draw);
  draw();
}

export default { render };
