/** Something that a hand does with a part: works it, or lets it go. */
export interface Work {
  readonly part: string;
  readonly pressed: boolean;
}

/** The parts that are worked once a hand has done this. */
export function workedAfter(worked: ReadonlySet<string>, { part, pressed }: Work): ReadonlySet<string> {
  return new Set(pressed ? [...worked, part] : [...worked].filter((each) => each !== part));
}

/**
 * What hands did, to be handed on slice by slice: of each part one thing a slice, so that time passes in the circuit
 * between a press and its end however short it was here.
 */
export class WorkQueue {
  private waiting: Work[] = [];

  /** Takes in what a hand did. */
  add(work: Work): void {
    this.waiting.push(work);
  }

  /** Forgets everything. */
  clear(): void {
    this.waiting = [];
  }

  /** What is to be done before the next slice. */
  take(): Work[] {
    const taken = this.waiting.filter(
      ({ part }, index) => this.waiting.findIndex((each) => each.part === part) === index,
    );
    this.waiting = this.waiting.filter((work) => !taken.includes(work));
    return taken;
  }
}
