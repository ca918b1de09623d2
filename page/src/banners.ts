// What is told over the figures until it is understood.

import { el, refresh } from "./build";
import type { Refused } from "./told";

export class Banners {
  readonly node = el("div", { class: "tolds" });

  /** Says something under a key, in the place of what was said under it before; `ways` are buttons out of it. */
  tell(key: string, gravity: string, words: string, ways: [string, () => void][] = []): void {
    const node = this.node.querySelector(`[data-told="${key}"]`) ?? el("div", { "data-told": key, role: "alert" });
    node.className = `told ${gravity}`;
    refresh(node, [gravity, words], () => [el("p", {}, el("strong", {}, `${gravity}: `), words),
      ...ways.map(([label, go]) => el("button", { type: "button", click: () => go() }, label)),
      ...(ways.length === 0 ? [el("button", { type: "button", click: () => this.quiet(key) }, "Understood")] : [])]);
    if (!node.isConnected) this.node.append(node);
  }

  quiet(key: string): void { this.node.querySelector(`[data-told="${key}"]`)?.remove(); }
}

/** A refusal in one line: its heading, and every fault with its place. */
export function sentence(refused: Refused): string {
  const faults = refused.faults.map((fault) => `${fault.line ? `line ${fault.line}, ` : ""}${fault.place}: ${fault.words}`);
  return faults.length > 0 ? `${refused.heading}. ${faults.join(". ")}.` : `${refused.heading}.`;
}

/** Why nothing can be drawn from the text: every fault, and the way to the text; `blank` names a file in which nothing stands yet. */
export function refusalNodes(refused: Refused, hasOlder: boolean, blank: string, write: () => void): Node[] {
  if (blank) {
    return [el("p", { class: "sentence" }, `Nothing is written in ${blank} yet.`),
      el("div", { class: "row" }, el("a", { class: "main", href: "/" }, "Choose a body to start from"),
        el("button", { type: "button", click: write }, "Write its text"))];
  }
  return [el("div", { class: "told wrong", role: "alert" },
    el("p", { class: "sentence" }, `As it is drawn now, ${refused.heading}.`),
    el("ul", {}, ...refused.faults.map((fault) => el("li", {},
      el("strong", {}, fault.line ? `line ${fault.line}, ${fault.place}: ` : `${fault.place}: `), fault.words))),
    hasOlder ? el("p", { class: "quiet" }, "The figures below are of an earlier stroke.") : null,
    el("button", { type: "button", click: write }, "Change its text"))];
}
