/** Events that reactors have scheduled, by slot, with times on a clock that may be set back. */
export class WaitingEvents {
  /** When the next one comes (s), and the slot that it waits in; Infinity when there is none. */
  next = Infinity;
  private nextSlot = 0;
  private count = 0;
  private readonly queues: { readonly reactor: number; readonly times: number[]; readonly events: number[] }[] = [];
  private readonly firstSlot: number[] = [];

  /** @param slots how many slots each reactor has. */
  constructor(slots: readonly number[]) {
    slots.forEach((many, reactor) => {
      this.firstSlot.push(this.queues.length);
      for (let slot = 0; slot < many; slot++) this.queues.push({ reactor, times: [], events: [] });
    });
  }

  /** Schedules an event; it does not come before those that wait in the same slot already. */
  schedule(reactor: number, slot: number, time: number, event: number): void {
    const { times, events } = this.queues[this.firstSlot[reactor]! + slot]!;
    const last = times.at(-1);
    times.push(last !== undefined && last > time ? last : time);
    events.push(event);
    this.count++;
    this.pick();
  }

  /** Empties a slot. */
  cancel(reactor: number, slot: number): void {
    const { times, events } = this.queues[this.firstSlot[reactor]! + slot]!;
    this.count -= times.length;
    times.length = 0;
    events.length = 0;
    this.pick();
  }

  /** Takes the next event out: its reactor and its number. */
  take(): { readonly reactor: number; readonly event: number } {
    const { reactor, times, events } = this.queues[this.nextSlot]!;
    times.shift();
    const event = events.shift()!;
    this.count--;
    this.pick();
    return { reactor, event };
  }

  /** Sets the clock back (s). */
  setBack(by: number): void {
    if (this.count === 0) return;
    for (const { times } of this.queues) for (let i = 0; i < times.length; i++) times[i]! -= by;
    this.next -= by;
  }

  /** Empties all. */
  clear(): void {
    for (const { times, events } of this.queues) times.length = events.length = 0;
    this.count = 0;
    this.next = Infinity;
  }

  private pick(): void {
    this.next = Infinity;
    if (this.count === 0) return;
    for (let slot = 0; slot < this.queues.length; slot++) {
      const time = this.queues[slot]!.times[0];
      if (time === undefined || time >= this.next) continue;
      this.next = time;
      this.nextSlot = slot;
    }
  }
}
