// The place where the lure is towed: what it does in a sentence, what is wrong, its motion played at each speed, beat and
// sweep against speed, then the figures. It is worked out behind; what is of an older drawing is shown as that.

import { el, refresh, say, together } from "./build";
import { type Curve, curve, type Mark } from "./curves";
import { bareSections, Before, findingItem } from "./figures";
import type { Recording } from "./motion";
import { Playing } from "./playing";
import type { Answer, Row, Swum, TowAsk, TowTold } from "./told";

export interface TowBench {
  file: string;
  ask(what: TowAsk): void;
}

const BESIDE: [string, string][] = [["does", "of its starts"], ["beat", "beat"], ["tail_sweep", "tail, side to side"], ["pull", "pull on the line"]];

export class Tow {
  readonly node = el("div", { class: "figures tow" });
  readonly typed = el("div", { class: "typed" });
  private words = el("p", { role: "status" });
  private count = el("span", { class: "quiet", "aria-hidden": "true" });
  private bar = el("progress", { "aria-label": "How far the tow is" });
  private stop = el("button", { type: "button", click: () => this.bench.ask("stop") }, "Stop towing");
  private again = el("button", { type: "button", click: () => this.bench.ask("again") }, "Tow it");
  private behind = el("div", { class: "towing" }, el("div", { class: "towing-words" }, this.words, this.count), this.bar, this.stop, this.again);
  private sentence = el("p", { class: "sentence" });
  private findings = el("ul", { class: "findings", "aria-label": "What is wrong with the tow, worst first" });
  private speed = el("input", { type: "range", id: "tow-speed", min: 0, step: 1, input: () => this.choose(Number(this.speed.value)) });
  private speedWords = el("output", { for: "tow-speed" });
  private beside = el("dl", { class: "at-speed" });
  private playing = new Playing();
  private curves = el("div", { class: "curves" });
  private tries = el("div", { class: "row" }, el("button", { type: "button", click: () => this.bench.ask("changes") }, "Try what would change it"),
    el("p", { class: "quiet" }, "Other swings, hooks, tails and tow eyes, each towed: half a minute or so."));
  private sections = el("div", { class: "sections" });
  private small = el("p", { class: "quiet small" });
  private swum = el("div", { class: "swum" });
  private answer: Swum | null = null;
  private told: TowTold | null = null;
  private before = new Before();
  private stamp = "";
  private chosen = 0;
  private visible = false;
  private kept = new Map<string, Promise<Recording>>();

  constructor(private bench: TowBench) {
    this.swum.append(this.sentence, this.findings,
      el("section", { class: "played", "aria-label": "The motion at one speed" },
        el("div", { class: "speed" }, el("label", { for: "tow-speed" }, "Towed at"), this.speed, this.speedWords),
        this.beside, this.playing.node),
      this.curves);
    this.node.append(this.behind, this.swum, this.typed, this.tries, this.sections, this.small);
    this.showAll();
  }

  /** The place is opened or left. */
  show(visible: boolean): void {
    if (this.visible !== visible) this.bench.ask(visible ? "look" : "leave");
    this.visible = visible;
    this.playing.show(visible);
  }

  /** The line to the workbench is there anew. */
  opened(): void { if (this.visible) this.bench.ask("look"); }

  /** The drawing as it is now. */
  drawn(stamp: string): void {
    if (this.stamp === stamp) return;
    this.stamp = stamp;
    this.showAll();
  }

  hearProgress(told: TowTold): void {
    this.told = told;
    this.showBehind();
  }

  hearSwum(swum: Swum): void {
    const was = this.answer;
    if (swum.sections && was?.sections && was.stamp !== swum.stamp && was.shop === swum.shop) this.before.note(asAnswer(was));
    if (was?.shop !== swum.shop) this.before.note(null);
    const first = was?.speeds !== swum.speeds;
    this.answer = swum;
    if (first) this.chosen = swum.shown ?? 0;
    this.showAll();
  }

  private get isFresh(): boolean { return this.answer !== null && this.answer.stamp === this.stamp; }

  private showAll(): void {
    const { answer } = this;
    this.showBehind();
    const old = answer !== null && !this.isFresh;
    for (const node of [this.swum, this.sections, this.small]) node.classList.toggle("old-tow", old);
    const sections = answer?.sections ?? [];
    this.swum.hidden = answer === null;
    this.tries.hidden = !this.isFresh || answer?.tried !== false;
    this.playing.fresh(!old);
    if (answer === null) return;
    say(this.sentence, answer.refused ? `${capital(answer.refused.heading)}.` : together(answer.headline ?? ""));
    const findings = answer.refused ? answer.refused.faults.map((fault) => ({ gravity: "wrong" as const, words: `${fault.place}: ${fault.words}` })) : answer.findings ?? [];
    refresh(this.findings, findings, () => findings.map((finding) => findingItem(finding, null, this.before.isNew(finding))));
    for (const node of this.swum.querySelectorAll<HTMLElement>(".played, .curves")) node.hidden = answer.refused !== undefined;
    bareSections(this.sections, { headline: "", also: [], sections }, this.before, "tow");
    say(this.small, answer.small ?? "");
    this.speed.max = String(Math.max(0, (answer.speeds ?? 1) - 1));
    this.showSpeed();
  }

  /** What goes on behind: how far it is, or whose answer this is. */
  private showBehind(): void {
    const { told, answer } = this;
    const now = told !== null && told.stamp === this.stamp ? told : null;
    const doing = now?.doing ?? null;
    const old = answer !== null && !this.isFresh;
    const whose = old ? "What is shown is from the drawing before your last stroke." : "";
    const how = doing !== null ? `${capital(doing.words)}.` : now?.stopped ? "Towing was stopped." : now?.refused && !answer?.refused
      ? `What would change it cannot be told: ${now.refused.heading}.` : now === null || this.isFresh ? "" : "Not towed yet.";
    say(this.words, [how, whose].filter(Boolean).join(" "));
    say(this.count, doing !== null && doing.of > 0 ? `${doing.done} of ${doing.of}` : "");
    this.bar.hidden = this.stop.hidden = doing === null;
    if (doing !== null && doing.of > 0) {
      this.bar.max = doing.of;
      this.bar.value = doing.done;
    } else this.bar.removeAttribute("value");
    this.again.hidden = doing !== null || this.isFresh || now === null;
    this.behind.hidden = this.words.textContent === "" && doing === null;
  }

  // --- one speed ----------------------------------------------------------------------------------------------------

  private row(name: string): Row | undefined {
    for (const section of this.answer?.sections ?? []) for (const row of section.rows) if (row.name === name) return row;
    return undefined;
  }

  /** The speed of a place in the order, as its section is called: "1.03 m/s (2.0 kn)". */
  private speedOf(place: number): string {
    const title = this.answer?.sections?.find((section) => section.rows[0]?.name === `swim.${place + 1}.speed`)?.title ?? "";
    return title.replace(/^At /, "");
  }

  private choose(place: number): void {
    this.chosen = place;
    this.showSpeed();
  }

  private showSpeed(): void {
    const { answer } = this;
    if (answer === null || answer.speeds === undefined) {
      this.playing.take(null, 0, "", answer?.shop ?? "metric");
      return;
    }
    this.chosen = Math.min(this.chosen, answer.speeds - 1);
    const number = this.chosen + 1, words = this.speedOf(this.chosen);
    this.speed.value = String(this.chosen);
    this.speed.setAttribute("aria-valuetext", words);
    say(this.speedWords, words);
    const rows = BESIDE.map(([name, label]) => [label, this.row(`swim.${number}.${name}`)] as const);
    const shown = rows.map(([label, row]) => [row?.label ?? label, row?.shown ?? "does not swim here", row ? this.before.was(row) : null] as const);
    refresh(this.beside, shown, () => shown.map(([label, value, was]) => el("div", {}, el("dt", {}, label), el("dd", {}, value,
      was === null ? null : el("span", { class: "was" }, ` was ${was}`)))));
    this.showCurves();
    void this.load();
  }

  private showCurves(): void {
    const count = this.answer?.speeds ?? 0;
    const marks = (name: string): Mark[] => Array.from({ length: count }, (_, place) => ({ speed: Number(this.row(`swim.${place + 1}.speed`)?.value),
      row: this.row(`swim.${place + 1}.${name}`), words: this.speedOf(place) }));
    const blows = this.row("swim.blow_out")?.value;
    const curves: Curve[] = (["beat", "tail_sweep"] as const).map((name) => {
      const made = marks(name), row = made.find((mark) => mark.row)?.row;
      return { title: `${name === "beat" ? "beat" : "tail, side to side"}${row ? `, ${row.unit} (${row.standing})` : ""}`, marks: made };
    });
    const unit = this.row("swim.1.speed")?.unit ?? "";
    const still = curves[0]!.marks.some((mark) => !mark.row), swims = curves[0]!.marks.some((mark) => mark.row);
    refresh(this.curves, [curves, this.chosen, blows], () => !swims ? [el("p", { class: "quiet" }, "It swims at none of the speeds it was towed at.")] : [el("h3", {}, "Against speed"),
      ...curves.map((one) => curve(one, unit, this.chosen, typeof blows === "number" ? blows : null)) as unknown as Node[],
      ...(still ? [el("p", { class: "quiet" }, "✕ marks a speed at which it does not swim.")] : [])]);
  }

  /** Fetches the lure's motion at the chosen speed; of an older drawing none is had. */
  private async load(): Promise<void> {
    const { answer, chosen } = this;
    if (answer?.speeds === undefined) return;
    const key = `${answer.stamp} ${chosen}`;
    const query = new URLSearchParams({ file: this.bench.file, stamp: answer.stamp, speed: String(chosen) });
    let told: Recording | null = null;
    try {
      if (!this.kept.has(key)) this.kept.set(key, recording(query));
      told = await this.kept.get(key)!;
    } catch { this.kept.delete(key); }
    if (this.kept.size > 40) this.kept.clear();
    if (answer !== this.answer || chosen !== this.chosen) return;
    const beat = this.row(`swim.${chosen + 1}.beat`)?.value;
    this.playing.take(told, typeof beat === "number" ? beat : 0,
      `The lure towed at ${this.speedOf(chosen)}, from above, from the side and from behind`, answer.shop);
  }
}

async function recording(query: URLSearchParams): Promise<Recording> {
  const answer = await fetch(`/api/motion?${query}`);
  if (!answer.ok) throw new Error(String(answer.status));
  return (await answer.json()) as Recording;
}

function capital(words: string): string { return words.charAt(0).toUpperCase() + words.slice(1); }

/** A tow as an answer, to show another against it. */
function asAnswer(swum: Swum): Answer {
  const tow = { headline: swum.headline ?? "", also: [], sections: swum.sections ?? [] };
  return { kind: "answer", stamp: swum.stamp, version: 0, shop: swum.shop, findings: swum.findings ?? [], places: { tow } as unknown as NonNullable<Answer["places"]> };
}
