// The way from box to box of a notebook by keyboard alone: Shift + Enter runs a box,
// leads into what appeared there, and leads on from there; plain keys stay inside.

function whenIn(el, where, then) {
  let tries = 0;
  const wait = setInterval(() => {
    const found = el.closest(where);
    if (found || (tries += 1) > 100) clearInterval(wait);
    if (found) then(found);
  }, 60);
  return () => clearInterval(wait);
}

function nextCell(el) {
  const next = el.closest(".jp-Cell")?.nextElementSibling;
  return next?.classList.contains("jp-Cell") ? next : null;
}

function keepKeys(el) {
  if (el.dataset.keysOfLesson) return;
  el.dataset.keysOfLesson = "1";
  el.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    event.stopPropagation();
    const next = event.key === "Enter" && event.shiftKey && nextCell(el);
    if (!next) return;
    event.preventDefault();
    next.focus();
    next.scrollIntoView({ block: "nearest" });
  });
}

// Only for one who came here with Shift + Enter a moment ago and has not moved on.
function comeIn(el, target) {
  return whenIn(el, ".jp-Cell", () => {
    const next = nextCell(el);
    if (next && document.activeElement === next) target.focus();
  });
}
