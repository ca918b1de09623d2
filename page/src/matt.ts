// How solids are shaded: as a matt surface under one lamp and the light of a room. Worked out at the corners and not at every
// pixel, for a browser that draws without a graphics card.

import { Color, DoubleSide, ShaderMaterial, Vector3 } from "three";

/** Towards the lamp; the same for all that is drawn. */
export const lamp = { value: new Vector3(0, -1, 1) };

const CORNER = `
  uniform vec3 lamp;
  uniform bool thin;
  varying float bright;
  void main() {
    float facing = dot(normalize(mat3(modelMatrix) * normal), lamp);
    bright = pow(0.48 + 0.6 * (thin ? abs(facing) : max(facing, 0.0)), 0.4545);
    gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  }`;
const PIXEL = `
  uniform vec3 colour;
  uniform float opacity;
  varying float bright;
  void main() { gl_FragColor = vec4(colour * bright, opacity); }`;

export class Matt extends ShaderMaterial {
  /** What is thin is seen from both sides. */
  constructor(opacity = 1, thin = false) {
    super({
      uniforms: { lamp, colour: { value: new Color() }, opacity: { value: opacity }, thin: { value: thin } }, vertexShader: CORNER,
      fragmentShader: PIXEL, transparent: opacity < 1, depthWrite: !thin,
    });
    if (thin) this.side = DoubleSide;
  }

  paint(colour: Color): void { (this.uniforms["colour"]!.value as Color).copy(colour).convertLinearToSRGB(); }
}
