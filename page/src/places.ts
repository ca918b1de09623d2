// The places of the workbench as tabs: what stands beside the drawing.

import { el } from "./build";
import type { PlaceName } from "./told";

const PLACES: [PlaceName, string][] = [["drawing", "Drawing"], ["ledger", "Ledger"], ["water", "Water"], ["tow", "Tow"], ["bench", "Bench"],
  ["papers", "Papers"]];

/** The place that the address names. */
export function placeNamed(): PlaceName { return PLACES.find(([name]) => `#${name}` === location.hash)?.[0] ?? "drawing"; }

export class Places {
  readonly node: HTMLElement;
  private tabs = new Map<PlaceName, HTMLButtonElement>();

  constructor(private open: (place: PlaceName) => void) {
    for (const [name, words] of PLACES) {
      this.tabs.set(name, el("button", { type: "button", role: "tab", id: `place-${name}`, "aria-controls": "answers", click: () => open(name),
        keydown: (event) => this.key(event as KeyboardEvent, name) }, words));
    }
    this.node = el("div", { class: "places", role: "tablist", "aria-label": "Places" }, ...this.tabs.values());
  }

  show(place: PlaceName): void {
    history.replaceState(null, "", `${location.pathname}${location.search}#${place}`);
    for (const [name, tab] of this.tabs) {
      tab.setAttribute("aria-selected", String(name === place));
      tab.tabIndex = name === place ? 0 : -1;
    }
  }

  private key(event: KeyboardEvent, name: PlaceName): void {
    const way = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (way === undefined) return;
    event.preventDefault();
    const names = PLACES.map(([one]) => one);
    const next = names[(names.indexOf(name) + way + names.length) % names.length] ?? name;
    this.open(next);
    this.tabs.get(next)?.focus();
  }
}
