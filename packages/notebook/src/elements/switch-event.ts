/** Somebody opens or closes a jumper or switch of the circuit in hand for good, while it is not run by hand. */
export class SwitchEvent extends Event {
  static readonly type = 'tt-switch';
  readonly part: string;
  readonly closed: boolean;

  constructor(part: string, closed: boolean) {
    super(SwitchEvent.type, { bubbles: true, composed: true });
    this.part = part;
    this.closed = closed;
  }
}
