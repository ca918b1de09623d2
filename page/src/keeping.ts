// Whether what is drawn is on the disk. It says so at the next word of the workbench, not with a picture of its own:
// while the hand moves every picture counts.

import { el, say } from "./build";
import type { Where } from "./told";

const LATEST = 60; // ms

export class Keeping {
  readonly node: HTMLElement;
  private words = el("p", { class: "kept", role: "status" }, "Being opened.");
  private saveButton: HTMLButtonElement;
  private timer = 0;
  private waits: (() => void) | null = null;

  constructor(save: () => void) {
    this.saveButton = el("button", { type: "button", click: save }, "Save");
    this.node = el("div", { class: "saving" }, this.words, this.saveButton);
  }

  /** `also` is shown together with it. */
  show(where: Where | null, isAlive: boolean, isSettled: boolean, also: () => void): void {
    window.clearTimeout(this.timer);
    this.waits = () => {
      say(this.words, !isAlive ? "Nothing can be drawn now." : !isSettled ? "Being kept." : where === null ? "" :
        where.saved ? `All is in ${where.file}.` : `Every stroke is kept; ${where.file} is as it was.`);
      this.saveButton.disabled = where === null || where.saved || !isAlive;
      also();
    };
    if (isAlive && isSettled) this.timer = window.setTimeout(() => this.now(), LATEST);
    else this.now();
  }

  /** Shows what waits. */
  now(): void {
    window.clearTimeout(this.timer);
    this.waits?.();
    this.waits = null;
  }
}
