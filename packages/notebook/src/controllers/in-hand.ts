import type { ReactiveControllerHost } from 'lit';
import type { Json } from '../edit/json.ts';
import type { CellLinkEvent, CursorEvent, PartEvent } from '../elements/events.ts';
import { boardOf, cellsOf } from '../runtime/cells.ts';
import { boardInHand, type Cursor } from '../runtime/page-view.ts';
import { ReadingPlace } from './reading-place.ts';

/** The page whose boards are taken in hand. */
interface Page extends ReactiveControllerHost, HTMLElement {
  readonly document: Json;
}

/**
 * What of an open page is in hand: the board that was last read, touched or gone to, the part of it that was chosen, and
 * where its time cursor stands.
 */
export class InHand {
  private readonly page: Page;
  private touched: string | undefined;
  private chosen: string | undefined;
  private placed: Cursor | undefined;

  constructor(page: Page) {
    this.page = page;
    new ReadingPlace(page, this.take);
  }

  /** The board in hand. */
  get board(): string | undefined {
    return boardInHand(cellsOf(this.page.document), this.touched);
  }

  /** The part that was chosen on it. */
  get part(): string | undefined {
    return this.chosen;
  }

  /** Where somebody put the time cursor. */
  get cursor(): Cursor | undefined {
    return this.placed;
  }

  /** Begins anew: another document is shown. */
  reset(): void {
    this.placed = undefined;
    this.chosen = undefined;
    this.touched = undefined;
  }

  /** Takes the board of a cell in hand. @param id the cell. */
  readonly take = (id: string): void => {
    const cell = cellsOf(this.page.document).find((each) => each.id === id);
    const board = cell === undefined ? undefined : boardOf(cell);
    if (board === undefined || board === this.touched) return;
    this.touched = board;
    this.chosen = undefined;
    this.page.requestUpdate();
  };

  /** Puts the time cursor where an event says. */
  readonly moveCursor = ({ cell, time }: CursorEvent): void => {
    this.placed = { cell, time };
    this.page.requestUpdate();
  };

  /** Chooses the part that an event names. */
  readonly choosePart = ({ part }: PartEvent): void => {
    if (part === this.chosen) return;
    this.chosen = part;
    this.page.requestUpdate();
  };

  /** Goes to the cell that a quoted number comes from. */
  readonly followLink = (event: CellLinkEvent): void => {
    const calm = window.matchMedia('(prefers-reduced-motion: reduce)').matches;
    const cell = this.page.shadowRoot?.querySelector(`tt-cell#${CSS.escape(event.cell)}`);
    cell?.scrollIntoView({ behavior: calm ? 'auto' : 'smooth', block: 'center' });
    this.take(event.cell);
  };
}
