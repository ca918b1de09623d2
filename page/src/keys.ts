// Keys that act on the whole drawing, from wherever they are pressed.

/** What the keys ask for. */
export interface Pressed {
  save(): void;
  step(kind: "undo" | "redo"): void;
  zoom(factor: number): void;
  whole(): void;
}

export function listen(asked: Pressed): void {
  document.addEventListener("keydown", (event) => pressed(event, asked));
}

function pressed(event: KeyboardEvent, asked: Pressed): void {
  const into = event.target as HTMLElement;
  const writes = into.matches("input:not([type=checkbox]):not([type=radio]), textarea");
  if (event.ctrlKey || event.metaKey) {
    const key = event.key.toLowerCase();
    if (key === "s") { event.preventDefault(); asked.save(); }
    if (writes) return;
    if (key === "z") { event.preventDefault(); asked.step(event.shiftKey ? "redo" : "undo"); }
    if (key === "y") { event.preventDefault(); asked.step("redo"); }
  } else if (!writes && !into.matches("select")) {
    if (event.key === "+" || event.key === "=") asked.zoom(1.25);
    if (event.key === "-") asked.zoom(0.8);
    if (event.key === "0") asked.whole();
  }
}
