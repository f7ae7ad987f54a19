import type { CaptureColumn } from '@two-thirds/sim/document';

const passing = { bubbles: true, composed: true };

/** What is known of the file that a capture cell names. */
export interface CaptureFileView {
  /** The columns of the file, from its first lines; undefined until they are read, or where there are none. */
  readonly head: readonly CaptureColumn[] | undefined;
  /** Share that is read, 0 to 1; undefined while it is not being read. */
  readonly share: number | undefined;
}

/** A file of measurements was chosen for a capture cell. */
export class CaptureFileEvent extends Event {
  static readonly type = 'tt-capture-file';
  readonly cell: string;
  readonly file: File;

  constructor(cell: string, file: File) {
    super(CaptureFileEvent.type, passing);
    this.cell = cell;
    this.file = file;
  }
}

/** An element wants to hear of the file that its cell names, now and whenever something changes. */
export class CaptureWatchEvent extends Event {
  static readonly type = 'tt-capture-watch';
  readonly element: Element;
  /** The name of the file, as the cell has it. */
  readonly name: string;
  /** Hears what is known; undefined where the page does not have the file. */
  readonly heard: (view: CaptureFileView | undefined) => void;

  constructor(element: Element, name: string, heard: CaptureWatchEvent['heard']) {
    super(CaptureWatchEvent.type, passing);
    this.element = element;
    this.name = name;
    this.heard = heard;
  }
}
