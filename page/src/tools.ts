// The tools under the drawing: back and forth, closer and farther, solid, and what can be put in.

import { el, say } from "./build";
import type { Where } from "./told";

const PUT: [string, string][] = [["pocket", "a bore for ballast"], ["hook", "a hook"], ["fitting", "a hook eye"], ["joint", "a cut"]];

/** What the tools ask for. */
export interface Asked {
  step(kind: "undo" | "redo"): void;
  zoom(factor: number): void;
  whole(): void;
  solid(): boolean;
  putIn(table: string, words: string): void;
}

export class Tools {
  readonly node: HTMLElement;
  private undoButton: HTMLButtonElement;
  private redoButton: HTMLButtonElement;
  private putNode = el("select", { id: "put-in" }, ...PUT.map(([value, words]) => el("option", { value }, words)));
  private solidButton: HTMLButtonElement;
  private moreButton: HTMLButtonElement;

  /** `block` stands under them, and is unfolded with them on a small screen. */
  constructor(asked: Asked, block: HTMLElement) {
    this.undoButton = el("button", { type: "button", click: () => asked.step("undo") }, "Undo");
    this.redoButton = el("button", { type: "button", click: () => asked.step("redo") }, "Redo");
    this.solidButton = el("button", { type: "button", class: "second", "aria-pressed": "false",
      click: () => this.solidButton.setAttribute("aria-pressed", String(asked.solid())) }, "Solid");
    this.moreButton = el("button", { type: "button", class: "more-tools", "aria-expanded": "false", click: () => this.showMore() }, "More");
    const put = (): void => asked.putIn(this.putNode.value, PUT.find(([name]) => name === this.putNode.value)?.[1] ?? this.putNode.value);
    const more = el("div", { class: "more" }, el("button", { type: "button", click: put }, "Put in"),
      el("label", { class: "unseen", for: "put-in" }, "What to put in"), this.putNode);
    const tray = el("div", { class: "tray", role: "toolbar", "aria-label": "Tools" },
      el("div", { class: "main-tools" }, this.undoButton, this.redoButton,
        el("button", { type: "button", class: "second", click: () => asked.zoom(1.4) }, "Closer"),
        el("button", { type: "button", class: "second", click: () => asked.zoom(1 / 1.4) }, "Farther"),
        el("button", { type: "button", click: () => asked.whole() }, "Whole lure"), this.solidButton, this.moreButton), more);
    this.node = el("div", { class: "foot" }, tray, block);
  }

  /** What can be taken back and done again. */
  show(where: Where | null, isAlive: boolean): void {
    this.undoButton.disabled = !where?.undo || !isAlive;
    this.redoButton.disabled = !where?.redo || !isAlive;
    this.undoButton.title = where?.undo ? `takes back: ${where.undo}` : "";
    this.redoButton.title = where?.redo ? `does again: ${where.redo}` : "";
  }

  private showMore(): void {
    const all = this.node.classList.toggle("all");
    this.moreButton.setAttribute("aria-expanded", String(all));
    say(this.moreButton, all ? "Less" : "More");
  }
}
