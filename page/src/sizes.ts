// Lengths in the hand: what snaps where, and how a length is said while it moves. What the answers say is rounded by
// the workbench; here only positions of the hand are shown, to the snap.

import type { Shop } from "./told";

export const INCH = 25.4; // mm

export interface Snap { words: string; step: number } // step [mm]; 0 for none

export function snaps(shop: Shop): Snap[] {
  if (shop === "metric") {
    return [{ words: "to 0.1 mm", step: 0.1 }, { words: "to 0.5 mm", step: 0.5 }, { words: "to 1 mm", step: 1 }];
  }
  return [{ words: "to 1/64 in", step: INCH / 64 }, { words: "to 1/32 in", step: INCH / 32 },
    { words: "to 1/16 in", step: INCH / 16 }];
}

export function snapped(millimetres: number, step: number): number {
  return step > 0 ? Math.round(millimetres / step) * step : millimetres;
}

function fraction(inches: number): string {
  const parts = Math.round(Math.abs(inches) * 64);
  const whole = Math.floor(parts / 64);
  let top = parts % 64, under = 64;
  while (top > 0 && top % 2 === 0) { top /= 2; under /= 2; }
  const sign = inches < 0 && parts > 0 ? "-" : "";
  if (top === 0) return `${sign}${whole}`;
  return whole > 0 ? `${sign}${whole} ${top}/${under}` : `${sign}${top}/${under}`;
}

/** A length [mm] as the hand's read-out says it. */
export function said(millimetres: number, shop: Shop): string {
  if (shop === "metric") return `${Number(millimetres.toFixed(1))} mm`;
  const inches = millimetres / INCH;
  return Math.abs(inches * 64 - Math.round(inches * 64)) < 0.01 ? `${fraction(inches)} in` : `${inches.toFixed(3)} in`;
}

/** How a scale is written on a drawing: "2.35 : 1", "1 : 1.3". */
export function scaleWords(pixelsPerMillimetre: number): string {
  const ratio = pixelsPerMillimetre / (96 / INCH);
  return ratio >= 1 ? `${ratio.toFixed(2)} : 1` : `1 : ${(1 / ratio).toFixed(2)}`;
}
