// The place at the bench: large type. What to do: one step of the work at a time, then what to drill and what the scale
// should show. What to weigh: the same lure in the shop's log.

import { el, refresh, say, together } from "./build";
import { bareSections, type Before } from "./figures";
import type { Answer, Shop } from "./told";
import { Weighing } from "./weighing";

type Side = "steps" | "log";
const SIDE = "gudgeon bench";

export class Work {
  readonly node = el("div", { class: "bench" });
  private steps = el("div", { class: "work" });
  private log: Weighing;
  private sides = new Map<Side, HTMLButtonElement>();
  private side: Side = localStorage.getItem(SIDE) === "log" ? "log" : "steps";
  private looked = false;
  private when = el("p", { class: "quiet" });
  private words = el("p", { class: "sentence", "aria-live": "polite" });
  private cautions = el("ul", { class: "cautions" });
  private following = el("p", { class: "quiet" });
  private back = el("button", { type: "button", click: () => this.step(-1) }, "Step back");
  private done = el("button", { class: "main", type: "button", click: () => this.step(1) }, "Done, what is next?");
  readonly typed = el("div", { class: "typed" });
  private sections = el("div", { class: "sections" });
  private answer: Answer | null = null;
  private key: string;

  constructor(file: string, private shop: Shop) {
    this.key = `gudgeon step ${file}`;
    this.log = new Weighing(file, shop);
    for (const [side, words] of [["steps", "What to do"], ["log", "What to weigh"]] as const) {
      this.sides.set(side, el("button", { type: "button", click: () => this.turn(side) }, words));
    }
    this.node.append(el("div", { class: "sides", role: "group", "aria-label": "At the bench" }, ...this.sides.values()), this.steps, this.log.node);
    this.turn(this.side);
    this.steps.append(this.when, this.words, this.cautions, el("div", { class: "row" }, this.back, this.done), this.following,
      this.typed, this.sections);
  }

  /** Whether the place is looked at. */
  look(looked: boolean): void {
    this.looked = looked;
    this.log.show(looked && this.side === "log", this.shop);
  }

  show(answer: Answer, before: Before): void {
    this.answer = answer;
    this.shop = answer.shop;
    this.look(this.looked);
    const tasks = answer.tasks ?? [];
    const at = Math.min(this.at, tasks.length);
    const task = tasks[at];
    say(this.when, task ? `Step ${at + 1} of ${tasks.length}, ${task.when}` : `All ${tasks.length} steps are done`);
    say(this.words, task ? together(task.words) : "Nothing is left to do but to fish it.");
    refresh(this.cautions, task?.cautions ?? [], () => (task?.cautions ?? []).map((words) => el("li", {}, el("strong", {}, "caution: "), words)));
    const next = tasks[at + 1];
    say(this.following, next ? `Then: ${next.words}` : "");
    this.back.disabled = at === 0;
    this.done.disabled = task === undefined;
    if (answer.places) bareSections(this.sections, answer.places.bench, before, "bench");
    this.before = before;
  }

  private turn(side: Side): void {
    this.side = side;
    localStorage.setItem(SIDE, side);
    for (const [one, button] of this.sides) button.setAttribute("aria-pressed", String(one === side));
    this.steps.hidden = side !== "steps";
    this.log.node.hidden = side !== "log";
    this.look(this.looked);
  }

  private before: Before | null = null;

  private get at(): number { return Number(localStorage.getItem(this.key) ?? "0") || 0; }

  private step(by: number): void {
    const most = this.answer?.tasks?.length ?? 0;
    localStorage.setItem(this.key, String(Math.max(0, Math.min(most, this.at + by))));
    if (this.answer && this.before) this.show(this.answer, this.before);
  }
}
