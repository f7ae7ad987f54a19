/** How long a part is worked by a click that nothing holds: one made by a screen reader (ms). */
const TAP = 200;

/**
 * Lets something be held: by mouse, finger or pen until they lift, by Space or Enter until the key is up, and for a moment
 * by a click that comes from nowhere.
 */
export class HoldGesture {
  private readonly set: (held: boolean) => void;
  private isHeld = false;
  private byPointer = false;

  /** @param set hears of the beginning and of the end. */
  constructor(set: (held: boolean) => void) {
    this.set = set;
  }

  /** Hears of a pointer going down. */
  readonly pointerDown = (event: PointerEvent): void => {
    if (event.button !== 0 || !(event.currentTarget instanceof Element)) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    this.byPointer = true;
    this.hold(true);
  };

  /** Hears of a pointer that lifts or is lost, and of the focus going elsewhere. */
  readonly end = (): void => this.hold(false);

  /** Hears of a key going down. */
  readonly keyDown = (event: KeyboardEvent): void => {
    if (!isPressKey(event)) return;
    // Keeps the button from being clicked as well, and the page from being scrolled.
    event.preventDefault();
    if (!event.repeat) this.hold(true);
  };

  /** Hears of a key going up. */
  readonly keyUp = (event: KeyboardEvent): void => {
    if (!isPressKey(event)) return;
    event.preventDefault();
    this.hold(false);
  };

  /** Hears of a click. */
  readonly click = (): void => {
    const wasPointer = this.byPointer;
    this.byPointer = false;
    if (wasPointer || this.isHeld) return;
    this.hold(true);
    setTimeout(this.end, TAP);
  };

  private hold(held: boolean): void {
    if (held === this.isHeld) return;
    this.isHeld = held;
    this.set(held);
  }
}

function isPressKey({ key }: KeyboardEvent): boolean {
  return key === ' ' || key === 'Enter';
}
