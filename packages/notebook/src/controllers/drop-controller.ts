import type { ReactiveController, ReactiveControllerHost } from 'lit';

/** Takes a file that is dropped anywhere on the page. */
export class DropController implements ReactiveController {
  /** Whether a file is being dragged over the page. */
  isDropping = false;
  private readonly host: ReactiveControllerHost;
  private readonly dropped: (file: File, handle: Promise<FileSystemHandle | null> | undefined) => void;

  constructor(host: ReactiveControllerHost, dropped: DropController['dropped']) {
    this.host = host;
    this.dropped = dropped;
    host.addController(this);
  }

  /** Part of lit's controller contract: starts to listen. */
  hostConnected(): void {
    window.addEventListener('dragover', this.over);
    window.addEventListener('dragleave', this.leave);
    window.addEventListener('drop', this.drop);
  }

  /** Part of lit's controller contract: stops listening. */
  hostDisconnected(): void {
    window.removeEventListener('dragover', this.over);
    window.removeEventListener('dragleave', this.leave);
    window.removeEventListener('drop', this.drop);
  }

  private readonly over = (event: DragEvent): void => {
    if (event.dataTransfer?.types.includes('Files') !== true) return;
    event.preventDefault();
    this.show(true);
  };

  private readonly leave = (event: DragEvent): void => {
    if (event.relatedTarget === null) this.show(false);
  };

  private readonly drop = (event: DragEvent): void => {
    this.show(false);
    // Some files mean something to a part of the page, which has taken them then.
    if (event.defaultPrevented) return;
    const [file] = event.dataTransfer?.files ?? [];
    if (file === undefined) return;
    event.preventDefault();
    // The way back to the file must be asked for before the event is over.
    const item: DroppedItem | undefined = event.dataTransfer?.items[0];
    this.dropped(file, item?.getAsFileSystemHandle?.());
  };

  private show(isDropping: boolean): void {
    if (this.isDropping === isDropping) return;
    this.isDropping = isDropping;
    this.host.requestUpdate();
  }
}

/** The part of the File System Access API (a WICG draft) that TypeScript's own types lack. */
interface DroppedItem extends DataTransferItem {
  getAsFileSystemHandle?(): Promise<FileSystemHandle | null>;
}
