/** Somebody works a part of the circuit in hand by hand, or lets it go. */
export class WorkEvent extends Event {
  static readonly type = 'tt-work';
  readonly part: string;
  readonly pressed: boolean;

  constructor(part: string, pressed: boolean) {
    super(WorkEvent.type, { bubbles: true, composed: true });
    this.part = part;
    this.pressed = pressed;
  }
}
