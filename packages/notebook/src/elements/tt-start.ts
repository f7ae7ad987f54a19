import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import { shared } from '../styles/shared.ts';

/** A page that can be opened from the start page. */
export interface StartEntry {
  readonly key: string;
  readonly title: string;
  readonly introduction: string;
  /** Whether it was changed since it was opened. */
  readonly changed: boolean;
}

/** The start page: what Two Thirds is for, the pages that come with it, and the way to one's own. */
export class Start extends LitElement {
  static override styles = [
    shared,
    css`
      main {
        max-width: 62rem;
        margin: 0 auto;
        padding: clamp(2rem, 7vw, 5rem) clamp(1rem, 4vw, 2.5rem) 4rem;
      }
      .opening {
        display: grid;
        grid-template-columns: minmax(0, 1fr) auto;
        gap: 2rem 4rem;
        align-items: center;
      }
      h1 {
        font-size: clamp(1.7rem, 4.2vw, 2.6rem);
        line-height: 1.15;
        font-weight: 650;
        letter-spacing: -0.02em;
        max-width: 20ch;
        text-wrap: balance;
      }
      .lead {
        margin-top: 1rem;
        max-width: 52ch;
        font-size: 1.0625rem;
      }
      .picture {
        width: clamp(14rem, 30vw, 22rem);
        height: auto;
      }
      .picture path,
      .picture line {
        fill: none;
        stroke: var(--slate);
        stroke-width: 2.4;
        stroke-linejoin: round;
      }
      .picture .limit {
        stroke: var(--edge);
        stroke-width: 1.6;
        stroke-dasharray: 1.5 5;
        stroke-linecap: round;
      }
      .picture .shade {
        fill: var(--shade);
      }
      .picture .bar {
        fill: var(--bar);
      }
      h2 {
        margin: clamp(2.2rem, 6vw, 3.6rem) 0 0.4rem;
      }
      ol {
        list-style: none;
        padding: 0;
      }
      li a {
        display: grid;
        grid-template-columns: minmax(11rem, 16rem) minmax(0, 1fr) auto;
        gap: 0.3rem 2rem;
        padding: 1rem 0;
        border-top: 1px solid var(--line);
        color: inherit;
        text-decoration: none;
      }
      li:last-child a {
        border-bottom: 1px solid var(--line);
      }
      li a:hover .title {
        text-decoration: underline;
        text-decoration-thickness: 2px;
        text-decoration-color: var(--rust);
      }
      .title {
        font-weight: 650;
        font-size: 1.125rem;
        text-underline-offset: 0.25em;
      }
      .about {
        color: var(--quiet);
      }
      .changed {
        color: var(--rust);
        font-size: var(--small);
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
      .complaint {
        margin-top: 0.8rem;
        font-size: 1rem;
      }
      footer {
        margin-top: 3.5rem;
        color: var(--quiet);
        font-size: var(--small);
        max-width: 62ch;
      }
      @media (max-width: 48rem) {
        .opening {
          grid-template-columns: minmax(0, 1fr);
        }
        .picture {
          display: none;
        }
        li a {
          grid-template-columns: minmax(0, 1fr);
        }
      }
    `,
  ];

  @property({ attribute: false }) entries: readonly StartEntry[] = [];
  /** Why the last file could not be opened. */
  @property({ attribute: false }) complaint: string | undefined;
  /** Called when a file is to be chosen. */
  @property({ attribute: false }) choose: () => void = () => undefined;

  protected override render(): TemplateResult {
    return html`<main>
      <div class="opening">
        <div>
          <h1>Turn a part. See what the timer does, and why.</h1>
          <p class="lead">
            Pages of live experiments with small timer boards. Every trace and every number is computed from the circuit
            in front of you; every input pulse says what became of it.
          </p>
        </div>
        ${picture}
      </div>
      <h2 class="margin-word">experiments at fernhollow junction, a model railway</h2>
      <ol>
        ${this.entries.map(
          (entry) =>
            html`<li>
              <a href="#${entry.key}">
                <span class="title">${entry.title}</span>
                <span class="about">${entry.introduction}</span>
                ${entry.changed ? html`<span class="changed">changed</span>` : nothing}
              </a>
            </li>`,
        )}
      </ol>
      <div class="own">
        <button @click=${() => this.choose()}>Open a page of your own</button>
        <span class="quiet">a file that ends in .tt.json, or drop it anywhere here</span>
      </div>
      ${this.complaint === undefined ? nothing : html`<p class="complaint" role="alert">${this.complaint}</p>`}
      <footer>
        A simulation is a prediction, not a safety approval. Local codes and licensed practice come first. Switch off
        before you exchange a part; run boards from a battery or another isolated extra-low-voltage supply.
      </footer>
    </main>`;
  }
}

/** The idea in one picture: a capacitor between one third and two thirds, and the output it makes. */
const picture = html`<svg class="picture" viewBox="0 0 300 150" aria-hidden="true">
  <rect class="shade" x="0" width="300" y="40" height="40" />
  <line class="limit" x1="0" x2="300" y1="40" y2="40" />
  <line class="limit" x1="0" x2="300" y1="80" y2="80" />
  <path
    d="M0 80C14 62 26 50 40 40C48 50 58 66 70 80C84 62 96 50 110 40C118 50 128 66 140 80C154 62 166 50 180 40C188 50 198 66 210 80C224 62 236 50 250 40C258 50 268 66 280 80C286 72 292 65 300 57"
  />
  <rect class="bar" x="0" width="40" y="118" height="16" />
  <rect class="bar" x="70" width="40" y="118" height="16" />
  <rect class="bar" x="140" width="40" y="118" height="16" />
  <rect class="bar" x="210" width="40" y="118" height="16" />
  <rect class="bar" x="280" width="20" y="118" height="16" />
</svg>`;
