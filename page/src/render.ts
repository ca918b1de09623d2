// The lure as solids. Comes as a part of its own, when it is first asked for; draws when something has changed, never else.

import {
  Box3, BoxGeometry, BufferAttribute, BufferGeometry, Color, CylinderGeometry, DoubleSide, ExtrudeGeometry, Group,
  LineBasicMaterial, LineSegments, Matrix4, Mesh, MeshBasicMaterial, type Object3D, OrthographicCamera,
  PlaneGeometry, Quaternion, Scene, Shape as Outline, SphereGeometry, TorusGeometry, Vector2, Vector3, WebGLRenderer,
} from "three";
import { mergeGeometries } from "three/examples/jsm/utils/BufferGeometryUtils.js";
import { lamp, Matt } from "./matt";
import { type Kind, type Lure, type Part, type Point3, shaded } from "./mesh";

const Y = new Vector3(0, 1, 0), Z = new Vector3(0, 0, 1);
const ROOM = 1.12; // of the lure's own length and depth that is shown
const FINE = 2; // pixels drawn to one shown, along each side: lines without steps
const PLAIN = 0.75; // the same where the processor draws and the lure moves
const REST = 2000; // ms without another picture after which a browser that draws without a graphics card draws a fine one, which takes it long
const CARDLESS = /swiftshader|llvmpipe|software|basic render/i;
const POINT = 0.3; // of a hook's shank, how high its points stand over the bend

export class Render {
  private renderer: WebGLRenderer;
  private scene = new Scene();
  private camera = new OrthographicCamera();
  private wood = new Matt(0.55);
  private depth = new MeshBasicMaterial({ colorWrite: false, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
  private seen = new LineBasicMaterial();
  private hidden = new LineBasicMaterial({ depthTest: false });
  private water = new MeshBasicMaterial({ transparent: true, opacity: 0.22, side: DoubleSide, depthWrite: false });
  private kinds: Record<Kind, Matt> = {
    ballast: new Matt(), plug: new Matt(), metal: new Matt(), glass: new Matt(), plate: new Matt(0.4, true),
  };
  private root = new Group();
  private pieces: Group[] = [];
  private joints: Group[] = [];
  private folded: number[] = [];
  private woods: Box3[] = []; // the room that the wood of each piece takes, straight
  private parts: Box3[] = []; // and what is in and on it
  private azimuth = -0.6; // [rad] from the left side towards the tail
  private height = 0.3; // [rad] over the level
  private zoomed = 1;
  private pan = new Vector2();
  private frame = 0;
  private size = new Vector2(300, 200);
  private slow: boolean; // drawn by the processor
  private timer = 0;

  /** Draws on a canvas; onDrawn is told the pixels to a millimetre after each time. */
  constructor(canvas: HTMLCanvasElement, context: WebGL2RenderingContext, private onDrawn: (pixels: number) => void) {
    this.renderer = new WebGLRenderer({ canvas, context, alpha: true });
    const who = context.getExtension("WEBGL_debug_renderer_info");
    this.slow = CARDLESS.test(String(context.getParameter(who?.UNMASKED_RENDERER_WEBGL ?? context.RENDERER)));
    this.scene.add(this.root);
    this.paint();
  }

  /** Another lure. What is only wood takes the place of the wood; the rest stays until it is known anew. */
  take(lure: Lure): void {
    const { head } = lure;
    if (head.whole || this.pieces.length !== head.pieces.length) this.rebuild(lure);
    else head.folds.forEach((fold, index) => this.hinge(this.joints[index]!, fold.pivot));
    this.woods = lure.surfaces.map((surface) => new Box3().setFromArray(surface.corners));
    lure.surfaces.forEach((surface, index) => {
      const wood = this.pieces[index]!.children[0] as Group;
      empty(wood);
      const { places, normals, triangles, edges } = shaded(surface);
      const body = new BufferGeometry().setAttribute("position", new BufferAttribute(places, 3)).setAttribute("normal", new BufferAttribute(normals, 3))
        .setIndex(new BufferAttribute(triangles, 1));
      const lines = new BufferGeometry().setAttribute("position", new BufferAttribute(edges, 3));
      wood.add(ordered(new LineSegments(lines, this.hidden), 1), ordered(new Mesh(body, this.depth), 2), ordered(new Mesh(body, this.wood), 3),
        ordered(new LineSegments(lines, this.seen), 4));
    });
    if (head.whole && head.water) this.root.add(this.level(head.water));
    this.fold(this.folded);
    this.drawNow(); // begun at once; it is done by the next picture of the page
  }

  /** Turns every joint by an angle [degrees], the aft end to the right. */
  fold(angles: number[]): void {
    this.folded = angles;
    this.joints.forEach((joint, index) => { joint.rotation.z = ((angles[index] ?? 0) * Math.PI) / 180; });
    this.draw();
  }

  turn(azimuth: number, height: number): void {
    this.azimuth += azimuth;
    this.height = Math.min(Math.PI / 2, Math.max(-Math.PI / 2, this.height + height));
    this.draw();
  }

  /** Looks from somewhere [rad], at the whole lure. */
  look(azimuth: number, height: number): void {
    [this.azimuth, this.height] = [azimuth, height];
    this.whole();
  }

  zoom(factor: number): void {
    this.zoomed = Math.min(20, Math.max(0.4, this.zoomed * factor));
    this.draw();
  }

  shift(dx: number, dy: number): void {
    this.pan.add(new Vector2(dx, dy));
    this.draw();
  }

  whole(): void {
    this.zoomed = 1;
    this.pan.set(0, 0);
    this.draw();
  }

  resize(width: number, height: number): void {
    this.size.set(Math.max(1, width), Math.max(1, height));
    this.renderer.setSize(this.size.x, this.size.y, false);
    this.drawNow();
  }

  /** Takes its colours from the page. */
  paint(): void {
    const style = getComputedStyle(this.renderer.domElement);
    const colour = (name: string): Color => new Color(style.getPropertyValue(name).trim() || "#888888");
    this.wood.paint(colour("--wood"));
    this.seen.color = colour("--ink");
    this.hidden.color = colour("--quiet");
    this.water.color = colour("--water");
    this.kinds.ballast.paint(colour("--ballast"));
    this.kinds.metal.paint(colour("--quiet"));
    this.kinds.plug.paint(colour("--wood"));
    this.kinds.glass.paint(colour("--ink"));
    this.kinds.plate.paint(colour("--quiet"));
    this.draw();
  }

  private draw(): void {
    if (this.frame === 0) this.frame = requestAnimationFrame(() => this.drawNow());
  }

  /** Draws finely, where that is quick; else plainly, and finely once it rests. */
  private drawNow(fine = !this.slow): void {
    cancelAnimationFrame(this.frame);
    window.clearTimeout(this.timer);
    this.frame = 0;
    const ratio = fine ? Math.max(FINE, window.devicePixelRatio || 1) : PLAIN;
    if (this.renderer.getPixelRatio() !== ratio) this.renderer.setPixelRatio(ratio);
    if (!fine) this.timer = window.setTimeout(() => this.drawNow(true), REST);
    const pixels = this.aim();
    this.renderer.render(this.scene, this.camera);
    this.onDrawn(pixels);
  }

  /** Puts the camera where it looks from; gives the pixels to a millimetre. */
  private aim(): number {
    const { camera, size } = this;
    const [sin, cos] = [Math.sin(this.azimuth), Math.cos(this.azimuth)], [up, level] = [Math.sin(this.height), Math.cos(this.height)];
    const room = this.room(), middle = room.getCenter(new Vector3());
    const away = new Vector3(level * sin, -level * cos, up), aside = new Vector3(cos, sin, 0);
    camera.up.set(-up * sin, up * cos, level);
    const half = room.getSize(new Vector3()).multiplyScalar(0.5), far = 2 * half.length() + 100;
    const reach = (way: Vector3): number => Math.abs(way.x) * half.x + Math.abs(way.y) * half.y + Math.abs(way.z) * half.z;
    const pixels = Math.min(size.x / reach(aside), size.y / reach(camera.up)) * (0.5 / ROOM) * this.zoomed;
    camera.left = (-0.5 * size.x - this.pan.x) / pixels;
    camera.right = (0.5 * size.x - this.pan.x) / pixels;
    camera.top = (0.5 * size.y + this.pan.y) / pixels;
    camera.bottom = (-0.5 * size.y + this.pan.y) / pixels;
    camera.near = 1;
    camera.far = 4 * far;
    camera.position.copy(middle).addScaledVector(away, 2 * far);
    camera.lookAt(middle);
    camera.updateProjectionMatrix();
    lamp.value.copy(away).multiplyScalar(2).addScaledVector(camera.up, 1.4).addScaledVector(aside, -0.9).normalize();
    return pixels;
  }

  /** The room it all takes as it is folded. */
  private room(): Box3 {
    this.root.updateMatrixWorld();
    const room = new Box3();
    this.pieces.forEach((piece, index) => {
      const own = this.woods[index]?.clone().union(this.parts[index] ?? new Box3());
      if (own) room.union(own.applyMatrix4(piece.matrixWorld));
    });
    return room.isEmpty() ? room.set(new Vector3(0, -10, -10), new Vector3(200, 10, 10)) : room;
  }

  /** Each piece hangs on the one ahead of it, at its joint's axis: wood first, then what is in and on it. */
  private rebuild({ head }: Lure): void {
    empty(this.root);
    this.pieces = head.pieces.map(() => new Group().add(new Group(), new Group()));
    this.joints = head.folds.map(() => new Group().add(new Group()));
    this.root.add(this.pieces[0]!);
    head.folds.forEach((fold, index) => {
      const joint = this.joints[index]!;
      this.hinge(joint, fold.pivot);
      joint.children[0]!.add(this.pieces[index + 1]!);
      (index === 0 ? this.root : this.joints[index - 1]!.children[0]!).add(joint);
    });
    this.parts = head.pieces.map(() => new Box3());
    head.pieces.forEach((_, piece) => {
      for (const kind of Object.keys(this.kinds) as Kind[]) this.putIn(piece, kind, head.parts.filter((part) => part.piece === piece && part.kind === kind));
    });
  }

  /** All parts of a kind in a piece as one: many small ones are slow to draw. */
  private putIn(piece: number, kind: Kind, parts: Part[]): void {
    const made = parts.flatMap(shapes);
    if (made.length === 0) return;
    const all = new Mesh(mergeGeometries(made.map(inPlace)), this.kinds[kind]);
    this.pieces[piece]!.children[1]!.add(ordered(all, kind === "plate" ? 5 : 0));
    this.parts[piece]!.union(new Box3().setFromObject(all));
  }

  /** A group that turns about an upright axis, with one inside it that has the lure's own places. */
  private hinge(joint: Group, pivot: number): void {
    joint.position.set(pivot, 0, 0);
    joint.children[0]!.position.set(-pivot, 0, 0);
  }

  private level({ height, pitch }: { height: number; pitch: number }): Mesh {
    const low = this.woods[0]!.min.x, high = this.woods[this.woods.length - 1]!.max.x;
    const turn = (pitch * Math.PI) / 180, long = high - low;
    const plane = new Mesh(new PlaneGeometry(1.16 * long, 0.5 * long), this.water);
    const x = 0.5 * (low + high);
    plane.position.set(x, 0, (height + x * Math.sin(turn)) / Math.cos(turn));
    plane.rotation.y = -turn;
    return ordered(plane, 6);
  }
}

function ordered<T extends Object3D>(made: T, order: number): T {
  made.renderOrder = order;
  return made;
}

/** Takes everything out of a group and lets its shapes go. */
function empty(group: Group): void {
  group.traverse((node) => { if (node instanceof Mesh || node instanceof LineSegments) (node.geometry as BufferGeometry).dispose(); });
  group.clear();
}

function vector(point: Point3): Vector3 { return new Vector3(...point); }

/** A shape where it stands, its corners counted one by one. */
function inPlace(made: Mesh): BufferGeometry {
  made.updateMatrix();
  const shape = made.geometry.applyMatrix4(made.matrix).deleteAttribute("uv");
  if (shape.index === null) shape.setIndex(Array.from({ length: shape.getAttribute("position").count }, (_, index) => index));
  return shape;
}

/** A part as meshes in the lure's own places. */
function shapes(part: Part): Mesh[] {
  if (part.shape === "rod") return [bar(part.at, part.along, part.half, part.radius)];
  if (part.shape === "treble") return treble(part);
  const made = new Mesh();
  made.position.copy(vector(part.at));
  if (part.shape === "box") {
    made.geometry = new BoxGeometry(...(part.halves.map((half) => 2 * half) as Point3));
    made.rotation.y = (part.tilt * Math.PI) / 180;
  } else if (part.shape === "ring") {
    made.geometry = new TorusGeometry(part.radius, part.wire, 6, 20);
    made.quaternion.setFromUnitVectors(Z, vector(part.normal));
  } else if (part.shape === "ball") made.geometry = new SphereGeometry(part.radius, 16, 10);
  else {
    const outline = new Outline(part.outline.map(([x, y]) => new Vector2(x, y)));
    made.geometry = new ExtrudeGeometry(outline, { depth: part.thick, bevelEnabled: false });
    const along = vector(part.along), across = vector(part.across);
    made.quaternion.setFromRotationMatrix(new Matrix4().makeBasis(along, across, new Vector3().crossVectors(along, across)));
  }
  return [made];
}

function bar(middle: Point3, along: Point3, half: number, radius: number): Mesh {
  const made = new Mesh(new CylinderGeometry(radius, radius, 2 * half, 16));
  made.position.copy(vector(middle));
  made.quaternion.setFromUnitVectors(Y, vector(along));
  return made;
}

/** Shank, and three bends with their points. */
function treble(hook: Extract<Part, { shape: "treble" }>): Mesh[] {
  const [x, y, z] = hook.at, bend = 0.5 * hook.gape, thin = 0.5 * hook.wire, low = z - hook.length + bend;
  const made = [bar([x, y, 0.5 * (z + low)], [0, 0, 1], 0.5 * (z - low), thin)];
  for (const turn of [0.5, 0.5 + 2 / 3, 0.5 + 4 / 3].map((part) => part * Math.PI)) {
    const out = new Vector3(Math.cos(turn), Math.sin(turn), 0), tall = POINT * (hook.length - bend);
    const round = new Mesh(new TorusGeometry(bend, thin, 5, 10, Math.PI));
    round.quaternion.setFromRotationMatrix(new Matrix4().makeBasis(out, Z, new Vector3().crossVectors(out, Z)))
      .multiply(new Quaternion().setFromAxisAngle(Z, Math.PI));
    round.position.set(x, y, low).addScaledVector(out, bend);
    made.push(round, bar([x + hook.gape * out.x, y + hook.gape * out.y, low + 0.5 * tall], [0, 0, 1], 0.5 * tall, thin));
  }
  return made;
}
