// Elements made in one line each.

type Child = Node | string | null | undefined | false;
type Props = Record<string, string | number | boolean | null | undefined | EventListener>;

function fill<E extends Element>(node: E, props: Props, children: Child[]): E {
  for (const [name, value] of Object.entries(props)) {
    if (value === null || value === undefined || value === false) continue;
    if (typeof value === "function") node.addEventListener(name, value as EventListener);
    else node.setAttribute(name, value === true ? "" : String(value));
  }
  node.append(...children.filter((child): child is Node | string => child !== null && child !== undefined && child !== false));
  return node;
}

export function el<K extends keyof HTMLElementTagNameMap>(
  name: K, props: Props = {}, ...children: Child[]
): HTMLElementTagNameMap[K] {
  return fill(document.createElement(name), props, children);
}

export function draw<K extends keyof SVGElementTagNameMap>(
  name: K, props: Props = {}, ...children: Child[]
): SVGElementTagNameMap[K] {
  return fill(document.createElementNS("http://www.w3.org/2000/svg", name), props, children);
}

/** Sets an attribute only where it is another. */
export function put(node: Element, name: string, value: string): void {
  if (node.getAttribute(name) !== value) node.setAttribute(name, value);
}

/** Puts words into an element only when they are others than stand there. */
export function say(node: Element, words: string): void {
  if (node.textContent !== words) node.textContent = words;
}

/** Puts children into an element when what they are made of has changed. */
export function refresh(node: Element, key: unknown, make: () => Node[]): void {
  const now = JSON.stringify(key);
  if ((node as Element & { made?: string }).made === now) return;
  (node as Element & { made?: string }).made = now;
  node.replaceChildren(...make());
}

/** A sentence whose figures are not torn from their spread. */
export function together(words: string): string { return words.replaceAll(" ± ", "\u00a0±\u00a0"); }
