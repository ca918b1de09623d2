// What may wait while the hand moves: it is done once the picture with the newest figures is shown.

const LONGEST = 100; // ms: a window that nobody sees is shown no pictures

export class Pictures {
  private waiting: (() => void)[] = [];
  private timer = 0;

  /** The figures that the hand waits for are put down: what comes now waits for their picture. */
  figured(): void {
    if (this.timer !== 0) return;
    this.timer = window.setTimeout(() => this.next(), LONGEST);
    requestAnimationFrame(() => {
      window.clearTimeout(this.timer);
      this.timer = window.setTimeout(() => this.next());
    });
  }

  /** Does it after that picture, in the order asked; at once where none is waited for. */
  after(work: () => void): void {
    if (this.timer === 0) work();
    else this.waiting.push(work);
  }

  /** One at a time, so that the hand's own movements come between them. */
  private next(): void {
    this.waiting.shift()?.();
    this.timer = this.waiting.length > 0 ? window.setTimeout(() => this.next()) : 0;
  }
}
