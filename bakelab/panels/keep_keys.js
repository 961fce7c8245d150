// The Lab's own shortcuts (arrows move between cells, Enter edits one) would take
// plain keys away from fields, lists and buttons. Keys with Ctrl, Alt or Cmd pass on.
function keepKeys(panel) {
  if (!panel || panel.dataset.keysKept) return;
  panel.dataset.keysKept = "1";
  panel.addEventListener("keydown", (event) => {
    if (!event.ctrlKey && !event.altKey && !event.metaKey) event.stopPropagation();
  });
}
