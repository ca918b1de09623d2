// The title block under the drawing: which design, its scale, units, what the hand snaps to, paper light or dark.

import { el, say } from "./build";
import { snaps } from "./sizes";
import type { Shop } from "./told";

export class TitleBlock {
  readonly node: HTMLElement;
  private stampNode = el("dd", {}, "");
  private scaleNode = el("dd", {}, "");
  private mirror: HTMLInputElement;
  private snapNode = el("select", { id: "snap", change: () => localStorage.setItem("gudgeon snap", String(this.snapNode.selectedIndex)) });
  private unitsButton: HTMLButtonElement;
  private themeButton = el("button", { type: "button", click: () => this.switchTheme() });

  constructor(file: string, shop: Shop, units: () => void, mirror: (on: boolean) => void) {
    this.unitsButton = el("button", { type: "button", click: units });
    this.mirror = el("input", { type: "checkbox", id: "mirror", change: () => mirror(this.mirror.checked) });
    const cell = (words: string, node: HTMLElement): HTMLElement => el("div", {}, el("dt", {}, words), node.tagName === "DD" ? node : el("dd", {}, node));
    this.node = el("dl", { class: "title-block" }, cell("design", this.stampNode), cell("scale", this.scaleNode),
      el("div", { class: "units" }, el("dt", {}, "units"), el("dd", {}, this.unitsButton)),
      el("div", {}, el("dt", {}, el("label", { for: "snap" }, "the hand snaps")), el("dd", {}, this.snapNode)),
      el("div", { class: "belly" }, el("dt", {}, "belly"), el("dd", {}, el("label", { class: "inline", for: "mirror" }, this.mirror, "mirrors the back"))),
      cell("paper", this.themeButton), cell("file", el("dd", { class: "file" }, file)));
    this.setShop(shop);
    this.showTheme();
  }

  /** What the hand snaps to [mm]. */
  snap(): number { return Number(this.snapNode.value); }

  setScale(words: string): void { say(this.scaleNode, words); }

  setDesign(stamp: string, isMirrored: boolean): void {
    say(this.stampNode, stamp);
    this.mirror.checked = isMirrored;
  }

  setShop(shop: Shop): void {
    say(this.unitsButton, shop === "metric" ? "mm" : "in");
    this.unitsButton.setAttribute("aria-label", shop === "metric" ? "Units: mm. Change to inches" : "Units: in. Change to millimetres");
    const list = snaps(shop);
    const chosen = Math.min(list.length - 1, Number(localStorage.getItem("gudgeon snap") ?? "0") || 0);
    this.snapNode.replaceChildren(...list.map((one, index) => el("option", { value: one.step, selected: index === chosen }, one.words)));
  }

  private switchTheme(): void {
    const order = ["", "light", "dark"];
    const now = localStorage.getItem("gudgeon paper") ?? "";
    localStorage.setItem("gudgeon paper", order[(order.indexOf(now) + 1) % order.length] ?? "");
    this.showTheme();
  }

  private showTheme(): void {
    const now = localStorage.getItem("gudgeon paper") ?? "";
    if (now) document.documentElement.dataset["theme"] = now;
    else delete document.documentElement.dataset["theme"];
    say(this.themeButton, now === "" ? "as the system" : now);
    this.themeButton.setAttribute("aria-label", `Paper: ${now === "" ? "as the system" : now}. Change`);
  }
}
