import type { ReactiveControllerHost } from 'lit';

/** Something the page has to say that belongs to no cell. */
export interface Notice {
  /** What it is about; a newer notice about the same takes its place. */
  readonly about: string;
  readonly text: string;
  /** Whether it has to be heard at once: something was refused or could not be kept. */
  readonly isUrgent: boolean;
  /** What can be done about it. */
  readonly action?: { readonly words: string; readonly act: () => void };
  /** Text to be copied, where there is any. */
  readonly copy?: string;
}

/** The notices that stand below the head of the page. */
export class Notices {
  /** In the order in which they came. */
  all: readonly Notice[] = [];
  private readonly host: ReactiveControllerHost;

  constructor(host: ReactiveControllerHost) {
    this.host = host;
  }

  /** Says something. */
  say(notice: Notice): void {
    this.all = [...this.all.filter(({ about }) => about !== notice.about), notice];
    this.host.requestUpdate();
  }

  /** Takes a notice away. */
  drop(about: string): void {
    if (!this.all.some((each) => each.about === about)) return;
    this.all = this.all.filter((each) => each.about !== about);
    this.host.requestUpdate();
  }
}
