// Fields made anew without the one that is being typed in losing its words.

import { refresh } from "./build";

/** Makes fields anew; the one that is being typed in keeps its words and its place. */
export function keepingFocus(node: Element, key: unknown, make: () => Node[]): void {
  const active = document.activeElement;
  const typing = active instanceof HTMLInputElement && node.contains(active) && active.type === "text" ? active : null;
  const kept = typing && { id: typing.id, value: typing.value, dirty: typing.value !== typing.defaultValue, at: typing.selectionStart };
  const id = node.contains(active) ? active?.id : undefined;
  const open = new Set([...node.querySelectorAll("details[open]")].map((one) => one.getAttribute("data-group")));
  refresh(node, key, make);
  for (const one of node.querySelectorAll("details")) if (open.has(one.getAttribute("data-group"))) one.open = true;
  if (!id || node.contains(active)) return;
  const again = document.getElementById(id);
  again?.focus({ preventScroll: true });
  if (kept && again instanceof HTMLInputElement) {
    if (kept.dirty) again.value = kept.value;
    again.setSelectionRange(kept.at, kept.at);
  }
}
