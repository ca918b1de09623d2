// The hand on the drawing: mouse, finger and keys. A grab keeps its offset, so nothing jumps when it is taken.

import type { At, Handle } from "./handles";
import { whereWords } from "./handles";
import type { View } from "./paper";
import type { Sheet } from "./sheet";
import { snapped } from "./sizes";
import type { Act } from "./told";

export interface Bench {
  /** Whether the hand may draw now. */
  ready(): boolean;
  snap(): number;
  begin(): void; // a gesture begins: what it changes is shown against now
  stroke(gesture: string, words: string, acts: Act[]): void;
  choose(key: string | null): void;
  say(words: string, quietly?: boolean): void;
  letGo(): void; // nothing is in the hand any more
  addAt(view: View, station: number, up: number): boolean;
  takeOut(handle: Handle): void;
}

export const KEYS = "Arrow keys move it, with Shift ten times as far, with Alt a tenth of a millimetre; Delete takes it out; " +
  "Page Down goes to the next, Tab to the next sort.";
const NEAR = { mouse: 14, touch: 26, pen: 18 }; // px at which a handle is in reach
const KEPT = 3; // px by which what is in the hand goes before its neighbours
const SAME = 8; // px within which a second touch is at the same place
type Kind = keyof typeof NEAR;
const own = Math.random().toString(36).slice(2, 8); // so that two windows never share a gesture
let gestures = 0;

export function newGesture(): string { gestures += 1; return `${own}-${gestures}`; }

export class Hand {
  private drag: { handle: Handle; gesture: string; grab: [number, number]; from: At; moved: boolean; again: boolean } | null = null;
  private touched: [number, number] | null = null; // where it last touched without moving
  private pans = new Map<number, [number, number]>();
  private run: { key: string; gesture: string } | null = null;

  constructor(private sheet: Sheet, private bench: Bench) {
    const { svg } = sheet;
    svg.addEventListener("pointerdown", (event) => this.down(event));
    svg.addEventListener("pointermove", (event) => this.move(event));
    svg.addEventListener("pointerup", (event) => this.up(event));
    svg.addEventListener("pointercancel", (event) => this.cancel(event));
    svg.addEventListener("pointerleave", () => this.hover(null));
    svg.addEventListener("dblclick", (event) => this.twice(event));
    svg.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    svg.addEventListener("focusin", (event) => this.focused(event));
    svg.addEventListener("keydown", (event) => this.key(event));
    svg.addEventListener("keyup", () => { this.run = null; });
  }

  get dragging(): boolean { return this.drag !== null; }

  /** The workbench refused a stroke: what is in the hand goes back to where the design has it. */
  drop(): void {
    this.drag = null;
    this.sheet.held = null;
    this.sheet.placeHandles();
  }

  private here(event: MouseEvent): [number, number] {
    const box = this.sheet.svg.getBoundingClientRect();
    return [event.clientX - box.left, event.clientY - box.top];
  }

  /** The handles in reach of a place of the screen, nearest first. */
  private reached(px: number, py: number, kind: Kind): Handle[] {
    const found: [number, Handle][] = [];
    for (const handle of this.sheet.handles) {
      const [x, y] = this.sheet.screen(handle);
      const apart = Math.hypot(px - x, py - y) - (handle.key === this.sheet.chosen ? KEPT : 0);
      if (apart < NEAR[kind]) found.push([apart, handle]);
    }
    return found.sort(([one], [other]) => one - other).map(([, handle]) => handle);
  }

  private nearest(px: number, py: number, kind: Kind): Handle | null { return this.reached(px, py, kind)[0] ?? null; }

  private down(event: PointerEvent): void {
    if (event.button > 0) return;
    const [px, py] = this.here(event);
    this.sheet.svg.setPointerCapture(event.pointerId);
    this.pans.set(event.pointerId, [px, py]);
    if (this.pans.size > 1) { this.drop(); return; }
    const near = this.reached(px, py, kindOf(event));
    const kept = this.touched && Math.hypot(px - this.touched[0], py - this.touched[1]) < SAME
      ? near.find((one) => one.key === this.sheet.chosen) : undefined;
    const handle = kept ?? near[0];
    if (!handle) return;
    event.preventDefault();
    this.bench.choose(handle.key);
    this.sheet.node(handle.key)?.focus({ preventScroll: true });
    if (!this.bench.ready()) { this.bench.say("The workbench does not answer; nothing can be drawn."); return; }
    const [x, y] = this.sheet.screen(handle);
    this.drag = { handle, gesture: newGesture(), grab: [x - px, y - py], from: handle.at, moved: false, again: kept !== undefined };
  }

  private move(event: PointerEvent): void {
    const [px, py] = this.here(event);
    const before = this.pans.get(event.pointerId);
    if (before === undefined) {
      if (event.pointerType === "mouse") this.hover(this.nearest(px, py, "mouse")?.key ?? null);
      return;
    }
    if (this.drag) this.pull(px, py);
    else this.shift(event.pointerId, before, [px, py]);
    this.pans.set(event.pointerId, [px, py]);
  }

  private pull(px: number, py: number): void {
    const drag = this.drag!;
    const { sheet } = this;
    if (!drag.moved) {
      const [x, y] = sheet.screen(drag.handle);
      if (Math.hypot(px + drag.grab[0] - x, py + drag.grab[1] - y) < 2) return;
      drag.moved = true;
      this.bench.begin();
    }
    const [station, up] = sheet.paper.lure(drag.handle.view, sheet.at, px + drag.grab[0], py + drag.grab[1]);
    this.to(drag.handle, { station, up }, drag.gesture);
  }

  /** Moves a handle as far as it may go and tells the workbench. */
  private to(handle: Handle, wanted: At, gesture: string, step = this.bench.snap()): void {
    const near = { station: snapped(wanted.station, step), up: snapped(wanted.up, step) };
    const to = handle.held(near);
    const { sheet } = this;
    const was = sheet.spot(handle);
    if (Math.abs(was.station - to.station) < 1e-4 && Math.abs(was.up - to.up) < 1e-4) return;
    sheet.held = { key: handle.key, at: to };
    sheet.placeHandles();
    this.bench.say(whereWords(handle, to, sheet.shop), true);
    this.bench.stroke(gesture, handle.name, handle.acts(to));
  }

  private up(event: PointerEvent): void {
    this.pans.delete(event.pointerId);
    if (this.drag?.again && !this.drag.moved) this.next(event, this.drag.handle);
    const moved = this.drag?.moved === true;
    this.touched = moved ? null : this.here(event);
    this.drag = null;
    if (moved) this.bench.letGo();
  }

  /** Touched again where several lie together: the next of them. */
  private next(event: PointerEvent, handle: Handle): void {
    const near = this.reached(...this.here(event), kindOf(event)).sort((one, other) => this.sheet.handles.indexOf(one) - this.sheet.handles.indexOf(other));
    const next = near[(near.indexOf(handle) + 1) % near.length];
    if (next) this.sheet.node(next.key)?.focus({ preventScroll: true });
  }

  private cancel(event: PointerEvent): void {
    this.pans.delete(event.pointerId);
    if (this.drag?.moved) this.back();
    this.drag = null;
  }

  /** Takes back what the hand is doing. */
  private back(): void {
    const drag = this.drag;
    if (!drag?.moved) return;
    this.sheet.held = { key: drag.handle.key, at: drag.from };
    this.sheet.placeHandles();
    this.bench.stroke(drag.gesture, drag.handle.name, drag.handle.acts(drag.from));
    this.drag = null;
  }

  private shift(id: number, before: [number, number], now: [number, number]): void {
    const others = [...this.pans.entries()].filter(([other]) => other !== id).map(([, at]) => at);
    const other = others[0];
    if (other === undefined) this.sheet.paper.pan(now[0] - before[0], now[1] - before[1]);
    else {
      const apart = (at: [number, number]): number => Math.max(8, Math.hypot(at[0] - other[0], at[1] - other[1]));
      const middle = (at: [number, number]): [number, number] => [0.5 * (at[0] + other[0]), 0.5 * (at[1] + other[1])];
      const [mx, my] = middle(now), [bx, by] = middle(before);
      this.sheet.paper.zoom(apart(now) / apart(before), mx, my);
      this.sheet.paper.pan(mx - bx, my - by);
    }
    this.sheet.place();
  }

  private wheel(event: WheelEvent): void {
    event.preventDefault();
    const [px, py] = this.here(event);
    this.sheet.paper.zoom(Math.exp(-0.0016 * event.deltaY * (event.deltaMode === 1 ? 16 : 1)), px, py);
    this.sheet.place();
  }

  private hover(key: string | null): void {
    if (this.sheet.hovered === key) return;
    this.sheet.hovered = key;
    this.sheet.svg.classList.toggle("over-handle", key !== null);
    this.sheet.placeHandles();
  }

  private twice(event: MouseEvent): void {
    const [px, py] = this.here(event);
    if (this.nearest(px, py, "mouse") !== null) return;
    for (const view of ["side", "top"] as View[]) {
      const [station, up] = this.sheet.paper.lure(view, this.sheet.at, px, py);
      const [low, high] = this.sheet.outlineAt(view, station);
      const off = Math.min(Math.abs(up - low), Math.abs(up - high)) * this.sheet.paper.scale;
      if (low < high && off < 14 && this.bench.addAt(view, station, up)) return;
    }
  }

  private focused(event: Event): void {
    const key = (event.target as Element).getAttribute("data-key");
    if (key !== null) this.bench.choose(key);
  }

  private key(event: KeyboardEvent): void {
    const key = (event.target as Element).getAttribute("data-key");
    const handle = this.sheet.handle(key);
    if (event.key === "Escape" && this.drag) { this.back(); event.preventDefault(); return; }
    if (!handle || event.ctrlKey || event.metaKey) return;
    const ways: Record<string, [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
    const way = ways[event.key];
    if (way) { event.preventDefault(); this.nudge(handle, way, event); }
    else if (event.key === "Delete" || event.key === "Backspace") { event.preventDefault(); this.bench.takeOut(handle); }
    else if (event.key === "PageDown" || event.key === "PageUp") {
      event.preventDefault();
      const list = this.sheet.handles, step = event.key === "PageDown" ? 1 : list.length - 1;
      const next = list[(list.indexOf(handle) + step) % list.length];
      if (next) this.sheet.node(next.key)?.focus();
    }
  }

  private nudge(handle: Handle, way: [number, number], event: KeyboardEvent): void {
    if (!this.bench.ready()) return;
    if (this.run?.key !== handle.key || !event.repeat) {
      this.run = { key: handle.key, gesture: newGesture() };
      this.bench.begin();
    }
    const step = event.altKey ? 0.1 : this.bench.snap() * (event.shiftKey ? 10 : 1) || 0.1;
    const from = this.sheet.spot(handle);
    const wanted = { station: from.station + step * way[0], up: from.up + step * way[1] };
    this.to(handle, wanted, this.run.gesture, event.altKey ? 0 : this.bench.snap());
  }
}

function kindOf(event: PointerEvent): Kind { return event.pointerType === "touch" || event.pointerType === "pen" ? event.pointerType : "mouse"; }
