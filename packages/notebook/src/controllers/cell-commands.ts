import type { LitElement, ReactiveController } from 'lit';
import type { Edit } from '../edit/history.ts';
import type { Json } from '../edit/json.ts';
import {
  addBareBoard,
  addBoardCell,
  addCell,
  addReadyBoard,
  deleteCell,
  duplicateCell,
  moveCell,
  type PageEdit,
} from '../edit/page-edits.ts';
import { renameCell } from '../edit/rename.ts';
import { cellStarts } from '../edit/starting-cells.ts';
import type { CellCommand } from '../elements/events.ts';
import { boardOf, cellsOf } from '../runtime/cells.ts';

/** What the commands need of the open document they work on. */
export interface CommandHost extends LitElement {
  readonly document: Json;
  /** Ids of the cells that are folded. */
  readonly folded: readonly string[];
  /** The board in hand: what a new cell looks at where the page does not say. */
  readonly board: string | undefined;
  apply(edit: Edit): void;
  /** Folds a cell, or unfolds it. */
  fold(cell: string): void;
  /** Lets what is kept about a cell outside the document follow its new name. */
  follow(cell: string, to: string): void;
}

/** Where the focus goes once the page has been drawn anew. */
interface Wish extends Target {
  /** The page as it was when it was wished: the host is drawn in between, before the change has come back to it. */
  readonly document: Json;
  readonly folded: readonly string[];
}

interface Target {
  readonly cell: string | undefined;
  readonly place: 'margin' | 'content' | 'name' | 'same';
}

/**
 * Does what is asked of the cells of a page, each as one edit, and sees to it that the focus is never lost: it goes
 * to the new cell, stays on the command that moved one, and falls to the neighbour of a cell that has gone.
 */
export class CellCommands implements ReactiveController {
  /** The cell whose sentences are open. */
  openCell: string | undefined;
  private readonly made = new Set<string>();
  private wish: Wish | undefined;
  private held: HTMLElement | undefined;
  private lastFocus: { readonly cell: string; readonly index: number } | undefined;
  private readonly host: CommandHost;

  constructor(host: CommandHost) {
    this.host = host;
    host.addController(this);
  }

  /** Begins anew: another document is shown. */
  reset(): void {
    this.openCell = undefined;
    this.wish = undefined;
    this.lastFocus = undefined;
    this.made.clear();
  }

  /** Does what was asked. */
  handle(command: CellCommand): void {
    const { document } = this.host;
    switch (command.act) {
      case 'open':
        this.openCell = this.openCell === command.cell ? undefined : command.cell;
        this.host.requestUpdate();
        return;
      case 'fold':
        this.want({ cell: command.cell, place: this.openCell === command.cell ? 'same' : 'margin' });
        this.host.fold(command.cell);
        return;
      case 'step':
        this.step(command.cell, command.places);
        return;
      case 'rename':
        this.host.follow(command.cell, command.to);
        this.openCell = command.to;
        this.want({ cell: command.to, place: 'name' });
        this.host.apply(renameCell(document, command.cell, command.to));
        return;
      case 'move':
        this.change(moveCell(document, command.cell, command.places), 'same');
        return;
      case 'duplicate':
        this.change(duplicateCell(document, command.cell), 'margin');
        return;
      case 'delete':
        this.change(deleteCell(document, command.cell), 'margin');
        return;
      case 'add':
        this.add(command.kind, command.after);
        return;
      case 'add-bare':
        this.change(addBareBoard(document, this.positionBelow(command.after)), 'margin');
        return;
      case 'add-ready':
        this.change(addReadyBoard(document, this.positionBelow(command.after), command.name), 'margin');
        return;
      case 'add-board':
        this.change(addBoardCell(document, this.positionBelow(command.after), command.name), 'margin');
        return;
    }
  }

  /** The cells that are held back, less those that were written here: whoever writes a cell sees it. */
  withoutMade(held: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
    return new Map([...held].filter(([id, asker]) => id === asker || !this.made.has(id)));
  }

  /** Notes where the focus is, to know its neighbourhood should its cell go. */
  noteFocus(cell: string): void {
    const index = cellsOf(this.host.document).findIndex(({ id }) => id === cell);
    this.lastFocus = { cell, index };
  }

  /** Part of lit's controller contract: the page has been drawn, the focus goes where it is wanted. */
  hostUpdated(): void {
    const { wish, lastFocus, host } = this;
    if (wish !== undefined) {
      if (wish.document === host.document && wish.folded === host.folded) return;
      this.wish = undefined;
      void this.focus(wish);
    } else if (lastFocus !== undefined && this.hasLostFocus(lastFocus.cell)) {
      const cells = cellsOf(this.host.document);
      void this.focus({ cell: cells[Math.min(lastFocus.index, cells.length - 1)]?.id, place: 'margin' });
    }
  }

  private add(kind: string, after: string | undefined): void {
    const { document } = this.host;
    const position = this.positionBelow(after);
    const board = this.boardNear(position);
    const content = cellStarts(document, board)
      .find((start) => start.kind === kind)
      ?.content(document, board);
    if (content !== undefined) this.change(addCell(document, position, kind, content), 'content');
  }

  private change(page: PageEdit | undefined, place: Target['place']): void {
    // A cell at its end of the page cannot move on; the focus stays where it is.
    if (page === undefined) return;
    if (place !== 'same') this.openCell = undefined;
    const isNew = cellsOf(this.host.document).every(({ id }) => id !== page.focus);
    if (page.focus !== undefined && isNew) this.made.add(page.focus);
    this.want({ cell: page.focus, place });
    this.host.apply(page.edit);
  }

  private want(target: Target): void {
    const { document, folded } = this.host;
    this.wish = { ...target, document, folded };
    this.held = target.place === 'same' ? deepFocus() : undefined;
  }

  private step(cell: string, places: number): void {
    const all = [...this.host.renderRoot.querySelectorAll('tt-cell')];
    const next = all[all.findIndex(({ id }) => id === cell) + places];
    if (next !== undefined) void this.focus({ cell: next.id, place: 'margin' });
  }

  private async focus({ cell, place }: Target): Promise<void> {
    const { held, host } = this;
    this.held = undefined;
    await host.updateComplete;
    const element = cell === undefined ? undefined : this.shownNear(cell);
    // A cell far out of sight is drawn in its turn; its name is there already, and the next key may come at once.
    if (place !== 'margin' || element?.hasUpdated !== true) await element?.updateComplete;
    const root = element?.shadowRoot;
    if (held?.isConnected === true) held.focus();
    else if (root === null || root === undefined) focusEnd(host);
    else if (place === 'content') await focusContent(root);
    else if (place === 'name') {
      const particulars = root.querySelector<LitElement>('tt-particulars');
      await particulars?.updateComplete;
      particulars?.shadowRoot?.querySelector<HTMLElement>('tt-value.name')?.focus();
    } else await focusMargin(root);
  }

  /** A cell on the page, or the nearest one above that is shown: some wait for a prediction and are not there. */
  private shownNear(cell: string): LitElement | undefined {
    const cells = cellsOf(this.host.document);
    const place = cells.findIndex(({ id }) => id === cell);
    const shown = [...this.host.renderRoot.querySelectorAll<LitElement>('tt-cell')];
    return shown.findLast(({ id }) => cells.findIndex((each) => each.id === id) <= place) ?? shown[0];
  }

  /** Whether the focus was in a cell that is no longer on the page, and has fallen to nothing. */
  private hasLostFocus(cell: string): boolean {
    const onPage = cellsOf(this.host.document).some(({ id }) => id === cell);
    if (onPage) return false;
    this.lastFocus = undefined;
    return deepFocus() === undefined;
  }

  private positionBelow(after: string | undefined): number {
    const cells = cellsOf(this.host.document);
    const above = cells.find(({ id }) => id === after);
    return above === undefined ? pageLength(this.host.document) : above.index + 1;
  }

  /** The board the page speaks of at a position: that of the nearest cell above, else the board in hand. */
  private boardNear(position: number): string | undefined {
    const above = cellsOf(this.host.document).filter(({ index }) => index < position);
    return above.map(boardOf).findLast((board) => board !== undefined) ?? this.host.board;
  }
}

function pageLength(document: Json): number {
  const last = cellsOf(document).at(-1);
  return last === undefined ? 0 : last.index + 1;
}

/** The element that has the focus, inside whatever elements it stands; none where the focus is nowhere. */
function deepFocus(): HTMLElement | undefined {
  let element = document.activeElement;
  while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
  return element instanceof HTMLElement && element !== document.body ? element : undefined;
}

function focusEnd(host: LitElement): void {
  const end = host.renderRoot.querySelector('tt-go-on');
  end?.shadowRoot?.querySelector('button')?.focus();
}

/** Puts the focus where a new cell is written: into the text of a note, into its first field otherwise. */
async function focusContent(root: ShadowRoot): Promise<void> {
  const note = root.querySelector<LitElement & { open?: () => Promise<void> }>('tt-note');
  if (note?.open !== undefined) {
    await note.open();
    return;
  }
  await focusMargin(root);
}

/** Puts the focus on the name of a cell; one that is new has none before it is drawn. */
async function focusMargin(root: ShadowRoot): Promise<void> {
  const margin = root.querySelector<LitElement>('tt-margin');
  await margin?.updateComplete;
  margin?.focus();
}
