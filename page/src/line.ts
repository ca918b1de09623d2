// The line to the workbench. One stroke is under way at a time; what the hand does meanwhile waits, and of one gesture
// only the newest waits. Whatever was acknowledged is on the disk.

import type { Act, Answer, NoSolid, Refused, Shape, Shop, Swum, Told, TowAsk, TowTold, Where, Weights } from "./told";

export interface Stroke { gesture: string; words: string; acts: Act[] }
type Waiting = { kind: "stroke"; stroke: Stroke } | { kind: "undo" | "redo" | "take file" } | { kind: "save"; over: boolean };

export interface Ears {
  where(where: Where, told: string): void;
  shape(shape: Shape): void;
  weights(weights: Weights): void;
  answer(answer: Answer): void;
  tow(told: TowTold): void;
  swum(swum: Swum): void;
  wood(bytes: ArrayBuffer): void;
  noSolid(refused: NoSolid): void;
  opened(): void;
  refused(refused: Refused): void;
  stale(): void;
  gone(): void;
  closed(refused: Refused): void;
}

export class Line {
  private socket: WebSocket | null = null;
  private waiting: Waiting[] = [];
  private underWay: number | null = null;
  private number = 0;
  private stamp = "";
  private shop: Shop = "metric";
  private ended = false;
  private tries = 0;

  constructor(private file: string, private ears: Ears) {}

  open(shop: Shop): void {
    this.shop = shop;
    const socket = new WebSocket(`ws://${location.host}/line?file=${encodeURIComponent(this.file)}`);
    this.socket = socket;
    socket.binaryType = "arraybuffer";
    socket.onopen = () => { this.tries = 0; };
    socket.onmessage = ({ data }: MessageEvent<string | ArrayBuffer>) => {
      if (typeof data === "string") this.hear(JSON.parse(data) as Told);
      else this.ears.wood(data);
    };
    socket.onclose = () => this.lost();
  }

  /** Whether the hand may draw: the workbench answers. */
  get alive(): boolean { return this.socket?.readyState === WebSocket.OPEN && this.stamp !== ""; }

  /** Whether everything that was drawn is kept. */
  get settled(): boolean { return this.underWay === null && this.waiting.length === 0; }

  stroke(stroke: Stroke): void {
    const last = this.waiting[this.waiting.length - 1];
    if (last?.kind === "stroke" && stroke.gesture !== "" && last.stroke.gesture === stroke.gesture) this.waiting.pop();
    this.waiting.push({ kind: "stroke", stroke });
    this.send();
  }

  ask(kind: "undo" | "redo" | "take file"): void { this.waiting.push({ kind }); this.send(); }

  save(over: boolean): void { this.waiting.push({ kind: "save", over }); this.send(); }

  units(shop: Shop): void {
    this.shop = shop;
    if (this.alive) this.socket?.send(JSON.stringify({ kind: "units", shop }));
  }

  tow(ask: TowAsk): void {
    if (this.alive) this.socket?.send(JSON.stringify({ kind: "tow", ask }));
  }

  /** Whether the wood of every stroke is to be told in three dimensions. */
  solid(ask: "look" | "leave"): void {
    if (this.alive) this.socket?.send(JSON.stringify({ kind: "solid", ask }));
  }

  private send(): void {
    if (this.underWay !== null || !this.alive) return;
    const next = this.waiting.shift();
    if (next === undefined) return;
    this.number += 1;
    this.underWay = this.number;
    const { kind } = next;
    const more = kind === "stroke" ? next.stroke : kind === "save" ? { over: next.over } : {};
    this.socket?.send(JSON.stringify({ kind, number: this.number, stamp: this.stamp, shop: this.shop, ...more }));
  }

  private hear(told: Told): void {
    if (told.kind === "shape") this.ears.shape(told);
    else if (told.kind === "weights") this.ears.weights(told);
    else if (told.kind === "answer") this.ears.answer(told);
    else if (told.kind === "tow") this.ears.tow(told);
    else if (told.kind === "swum") this.ears.swum(told);
    else if (told.kind === "no solid") this.ears.noSolid(told);
    else if (told.kind === "closed") { this.ended = true; this.ears.closed(told); }
    else if (told.kind === "opened") {
      this.stamp = told.stamp;
      this.underWay = null;
      this.waiting = [];
      this.socket?.send(JSON.stringify({ kind: "units", shop: this.shop }));
      this.ears.where(told, told.told);
      this.ears.opened();
    } else this.hearWhere(told);
  }

  private hearWhere(told: Exclude<Told, Shape | Answer | Weights | TowTold | Swum | NoSolid | { kind: "closed" } | { kind: "opened" }>): void {
    if (told.stamp !== undefined) this.stamp = told.stamp;
    const mine = told.kind !== "state" && told.number === this.underWay;
    if (mine) this.underWay = null;
    if (told.kind === "stale") { this.waiting = []; this.ears.stale(); }
    if (told.kind === "refused") this.ears.refused(told);
    if (told.stamp !== undefined) this.ears.where(told as Where, "");
    this.send();
  }

  private lost(): void {
    if (this.ended) return;
    this.stamp = "";
    this.underWay = null;
    this.waiting = [];
    this.ears.gone();
    this.tries += 1;
    window.setTimeout(() => this.open(this.shop), Math.min(300 * this.tries, 3000));
  }
}
