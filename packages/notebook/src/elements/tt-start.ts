import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import type { Json } from '../edit/json.ts';
import { shared } from '../styles/shared.ts';

/** A page that can be opened from the start page. */
export interface StartEntry {
  readonly key: string;
  readonly title: string;
  readonly introduction: string;
  /** When it was last changed, in words; none where nothing of it was. */
  readonly changed: string | undefined;
}

/** A page whose first run the start page shows. */
export interface OpeningPage {
  readonly key: string;
  readonly title: string;
  /** The document as it comes with the notebook. */
  readonly page: Json;
}

/** The start page: what Two Thirds is for, the pages that come with it, and the way to one's own. */
export class Start extends LitElement {
  static override styles = [
    shared,
    css`
      main {
        max-width: 62rem;
        margin: 0 auto;
        padding: clamp(1.6rem, 4vw, 3rem) clamp(1rem, 4vw, 2.5rem) 4rem;
      }
      h1 {
        font-size: clamp(1.7rem, 4.2vw, 2.6rem);
        line-height: 1.15;
        font-weight: 650;
        letter-spacing: -0.02em;
        max-width: 34ch;
        text-wrap: balance;
      }
      .lead {
        margin-top: 1rem;
        max-width: 62ch;
        font-size: 1.0625rem;
      }
      tt-opening-run {
        margin-top: clamp(1.6rem, 4vw, 2.6rem);
      }
      h2 {
        margin: clamp(2.2rem, 6vw, 3.6rem) 0 0.4rem;
      }
      ol {
        list-style: none;
        padding: 0;
      }
      li {
        position: relative;
        display: grid;
        grid-template-columns: minmax(11rem, 16rem) minmax(0, 1fr) auto;
        gap: 0.3rem 2rem;
        align-items: baseline;
        padding: 1rem 0;
        border-top: 1px solid var(--line);
      }
      li:last-child {
        border-bottom: 1px solid var(--line);
      }
      li a {
        color: inherit;
        font-weight: 650;
        font-size: 1.125rem;
        overflow-wrap: anywhere;
        text-decoration: none;
        text-underline-offset: 0.25em;
      }
      /* The whole line leads to the page. */
      li a::after {
        content: '';
        position: absolute;
        inset: 0;
      }
      li:hover a {
        text-decoration: underline;
        text-decoration-thickness: 2px;
        text-decoration-color: var(--rust);
      }
      .state {
        position: relative;
        display: grid;
        justify-items: end;
        font-size: var(--small);
      }
      .state button {
        font-size: var(--small);
      }
      .about {
        color: var(--quiet);
      }
      .changed {
        color: var(--quiet);
      }
      .own {
        margin-top: 1.8rem;
        display: flex;
        flex-wrap: wrap;
        gap: 0.5rem 1.2rem;
        align-items: center;
      }
      .own button {
        border-color: var(--edge);
        color: var(--ink);
        min-height: 2.5rem;
        padding-inline: 1rem;
      }
      footer {
        margin-top: 3.5rem;
        color: var(--quiet);
        font-size: var(--small);
        max-width: 62ch;
      }
      @media (max-width: 48rem) {
        li {
          grid-template-columns: minmax(0, 1fr);
        }
        .state {
          display: flex;
          flex-wrap: wrap;
          justify-content: space-between;
          gap: 0 1rem;
        }
        .state button {
          padding-inline: 0;
        }
      }
    `,
  ];

  /** The pages that come with the notebook. */
  @property({ attribute: false }) entries: readonly StartEntry[] = [];
  /** The page whose first run is shown. */
  @property({ attribute: false }) opening: OpeningPage | undefined;
  /** Pages of one's own. */
  @property({ attribute: false }) own: readonly StartEntry[] = [];
  /** Whether they are kept in this browser; else they last as long as the window. */
  @property({ attribute: false }) keepsOwn = true;
  /** Called when an empty page is to be begun. */
  @property({ attribute: false }) begin: () => void = () => undefined;
  /** Called with the key of a page that is to be deleted, or to be as it was. */
  @property({ attribute: false }) takeOut: (key: string) => void = () => undefined;
  /** Called when a file is to be chosen. */
  @property({ attribute: false }) choose: () => void = () => undefined;

  protected override render(): TemplateResult {
    return html`<main>
      <h1>Turn a part.<br />See what the timer does, and why.</h1>
      <p class="lead">
            Pages of live experiments with small timer boards. Every trace and every number is computed from the circuit
            in front of you; every input pulse says what became of it.
      </p>
      ${
        this.opening === undefined
          ? nothing
          : html`<tt-opening-run
              .page=${this.opening.page}
              .name=${this.opening.title}
              .address=${`#${this.opening.key}`}
            ></tt-opening-run>`
      }
      <div class="own">
        <button @click=${() => this.begin()}>Begin an empty page</button>
        <button @click=${() => this.choose()}>Open a page of your own</button>
        <span class="quiet">a file that ends in .tt.json, or drop it anywhere here</span>
      </div>
      ${
        this.own.length === 0
          ? nothing
          : html`<h2 class="margin-word as-written">
                ${this.keepsOwn ? 'Your pages, kept in this browser' : 'Your pages, as long as this window is open'}
              </h2>
              <ol>
                ${this.own.map((entry) => this.row(entry, 'delete'))}
              </ol>`
      }
      <h2 class="margin-word as-written">Experiments at Fernhollow Junction, a model railway</h2>
      <ol>
        ${this.entries.map((entry) => this.row(entry, 'back to the original'))}
      </ol>
      <footer>
        A simulation is a prediction, not a safety approval. Local codes and licensed practice come first. Switch off
        before you exchange a part; run boards from a battery or another isolated extra-low-voltage supply.
      </footer>
    </main>`;
  }

  private row(entry: StartEntry, words: string): TemplateResult {
    return html`<li>
      <a href="#${entry.key}" aria-describedby="about-${entry.key}">${entry.title}</a>
      <span class="about" id="about-${entry.key}">${entry.introduction}</span>
      ${
        entry.changed === undefined
          ? nothing
          : html`<div class="state">
              <span class="changed">changed ${entry.changed}</span>
              <button aria-label="${words}: ${entry.title}" @click=${() => this.takeOut(entry.key)}>${words}</button>
            </div>`
      }
    </li>`;
  }
}
