// What the workbench tells the page, as it comes through the line.

export type Shop = "metric" | "inch";
export type Point3 = [number, number, number];

export interface Stroke { line: string; closed: boolean; points: number[] }

export interface Where {
  file: string; stamp: string; version: number; undo: string | null; redo: string | null; steps: number;
  saved: boolean; fileChanged: boolean;
}

export interface Fault { place: string; words: string; line: number | null }
export interface Refused { heading: string; faults: Fault[] }

export type CurveName = "back" | "belly" | "side";
export type Table = "joint" | "fitting" | "hook" | "pocket" | "lip" | "fin";

export interface Part {
  table: Table; place: number; name: string; at: Point3; moves: string[]; bore?: number; face?: string;
  shank?: number; gape?: number;
}

export interface Shape extends Where {
  kind: "shape"; text: string; written: Written; refused?: Refused;
  curves?: Record<CurveName, [number, number][] | null>; handles?: Part[]; side?: Stroke[]; top?: Stroke[];
  length?: number;
}

export type Written = { [key: string]: unknown };

export interface Row {
  name: string; label: string; value: number | string | null; unit: string; low: number | null; high: number | null;
  shown: string; standing: string;
}
export interface Section { title: string; rows: Row[] }
export interface Place { headline: string; also: string[]; sections: Section[] }
export type PlaceName = "drawing" | "ledger" | "water" | "tow" | "bench" | "papers";
export interface Finding { gravity: "wrong" | "watch" | "note"; words: string }
export interface Mark extends Finding { at: Point3 }
export interface Task { when: string; words: string; cautions: string[] }
export interface SectionDrawn { letter: string; station: number; at: string; words: string; strokes: Stroke[] }

export interface Scene {
  side: Stroke[]; top: Stroke[]; ballastSide: number[][]; ballastTop: number[][]; sections: SectionDrawn[];
  water: number[]; afloat: boolean; weight: Point3; buoyancy: Point3; marks: Mark[];
}

export interface Answer {
  kind: "answer"; stamp: string; version: number; shop: Shop; refused?: Refused;
  name?: string; headline?: string; findings?: Finding[]; places?: Record<Exclude<PlaceName, "papers" | "tow">, Place>;
  scene?: Scene; tasks?: Task[];
}

export type TowAsk = "look" | "leave" | "stop" | "again" | "changes";

/** How far the tow of a drawing is. */
export interface TowTold {
  kind: "tow"; stamp: string; doing: { words: string; done: number; of: number } | null; stopped: boolean; refused: Refused | null;
}

/** What came of towing the drawing of that stamp. */
export interface Swum {
  kind: "swum"; stamp: string; shop: Shop; refused?: Refused;
  headline?: string; findings?: Finding[]; sections?: Section[]; small?: string; speeds?: number; shown?: number; tried?: boolean;
}

/** What is known before the rest: the rows of some places, and where the water's line lies. */
export interface Weights {
  kind: "weights"; stamp: string; version: number; shop: Shop; headlines: { drawing: string; water: string }; rows: Row[];
  scene: Pick<Scene, "water" | "afloat" | "weight" | "buoyancy">;
}

/** Why the drawing of that stamp makes no solid. */
export interface NoSolid { kind: "no solid"; stamp: string; refused: Refused }

export interface Key {
  name: string; takes: string; kind: string; units: string[]; choices: string[]; needed: boolean;
}
export interface Form { name: string; words: string; length: number; side: number[] }
export interface Shelf { folder: string; designs: string[]; forms: Form[]; keys: Record<string, Key[]> }

export type Act = { act: string; [key: string]: unknown };

export type Told =
  | ({ kind: "opened"; told: string } & Where)
  | ({ kind: "kept" | "stale"; number: number } & Where)
  | ({ kind: "refused"; number: number | null } & Refused & Partial<Where>)
  | ({ kind: "state" } & Where)
  | ({ kind: "closed" } & Refused)
  | Shape
  | Answer
  | Weights
  | TowTold
  | NoSolid
  | Swum;
