import { LitElement, type ReactiveController } from 'lit';

/**
 * Gives the focus to what an edit leaves of a list, or adds to it. The edit goes up to the application and comes back as
 * another document, nobody knows when: the list is known again by its length.
 */
export class FocusAfterEdit implements ReactiveController {
  private wanted: { readonly length: number; readonly selectors: readonly string[] } | undefined;

  /**
   * @param host draws the list.
   * @param length how long the list is that is drawn.
   */
  constructor(
    private readonly host: LitElement,
    private readonly length: () => number | undefined,
  ) {
    host.addController(this);
  }

  /** Once the list is so long, gives the focus to the first of these that is there. To be called before the edit is made. */
  await(length: number, ...selectors: string[]): void {
    this.wanted = { length, selectors };
  }

  /** Part of lit's controller contract. */
  hostUpdated(): void {
    const { wanted } = this;
    if (wanted === undefined || this.length() !== wanted.length) return;
    this.wanted = undefined;
    void this.focus(wanted.selectors);
  }

  private async focus(selectors: readonly string[]): Promise<void> {
    const found = selectors.map((selector) => this.host.renderRoot.querySelector<HTMLElement>(selector));
    const field = found.find((each) => each !== null);
    // A field that is new has nothing to focus before it is drawn.
    if (field instanceof LitElement) await field.updateComplete;
    field?.focus();
  }
}
