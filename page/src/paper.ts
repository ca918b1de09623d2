// The sheet: where millimetres of the lure lie on the screen. Side view above, top view below, sections under them, all
// at one scale; nose left.

export interface Box { left: number; top: number; right: number; bottom: number }

export type View = "side" | "top";

/** Places of the views on the sheet [mm], down the screen. The centre lines lie on the grid. */
export interface Layout { side: number; top: number; sections: number; box: Box }

export function layout(side: Box, top: Box, sections: { deep: number } | null, grid: number): Layout {
  // side.top is the highest height, top.top the furthest to the right: both count up
  const apart = 1.6 * grid;
  const topLine = Math.ceil((-side.bottom + apart + top.top) / grid) * grid;
  const left = Math.min(side.left, top.left), right = Math.max(side.right, top.right);
  let bottom = topLine - top.bottom, sectionLine = bottom;
  if (sections !== null) {
    sectionLine = bottom + apart + 0.5 * sections.deep;
    bottom = sectionLine + 0.5 * sections.deep + 0.7 * grid;
  }
  return { side: 0, top: topLine, sections: sectionLine, box: { left, top: -side.top, right, bottom } };
}

export class Paper {
  scale = 3; // px per mm
  x = 0; // px of the nose
  y = 0; // px of the side view's centre line
  width = 800;
  height = 500;
  private fitted = 3;
  private free = false;

  /** Shows the whole of a box [mm], with room at the edges [px]. */
  fit(box: Box, edge: { left: number; top: number; right: number; bottom: number }): void {
    const across = Math.max(40, this.width - edge.left - edge.right);
    const down = Math.max(40, this.height - edge.top - edge.bottom);
    this.scale = Math.min(across / (box.right - box.left), down / (box.bottom - box.top));
    this.fitted = this.scale;
    this.x = edge.left + 0.5 * (across - this.scale * (box.right - box.left)) - this.scale * box.left;
    this.y = edge.top + 0.5 * (down - this.scale * (box.bottom - box.top)) - this.scale * box.top;
    this.free = false;
  }

  /** Whether the hand moved or zoomed it since it showed the whole. */
  get moved(): boolean { return this.free; }

  /** Closer or farther by a factor, a point of the screen [px] staying where it is. */
  zoom(factor: number, px: number, py: number): void {
    const scale = Math.min(60, Math.max(0.6 * this.fitted, this.scale * factor));
    this.x = px - (px - this.x) * (scale / this.scale);
    this.y = py - (py - this.y) * (scale / this.scale);
    this.scale = scale;
    this.free = true;
  }

  pan(dx: number, dy: number): void {
    this.x += dx;
    this.y += dy;
    this.free = true;
  }

  /** Screen place [px] of a station and a height or offset [mm] in a view. */
  place(view: View, layout: Layout, station: number, up: number): [number, number] {
    const line = view === "side" ? layout.side : layout.top;
    return [this.x + this.scale * station, this.y + this.scale * (line - up)];
  }

  /** Station and height or offset [mm] at a screen place [px]. */
  lure(view: View, layout: Layout, px: number, py: number): [number, number] {
    const line = view === "side" ? layout.side : layout.top;
    return [(px - this.x) / this.scale, line - (py - this.y) / this.scale];
  }
}
