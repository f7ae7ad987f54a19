import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property, state } from 'lit/decorators.js';
import { shared } from '../styles/shared.ts';
import { handler } from './handler-property.ts';

/** What the tools of a drawing do. */
export type LaneTool = 'closer' | 'wider' | 'earlier' | 'later' | 'whole' | 'csv' | 'svg';

const tools: readonly (readonly [LaneTool, string])[] = [
  ['closer', 'closer'],
  ['wider', 'wider'],
  ['earlier', 'earlier'],
  ['later', 'later'],
  ['whole', 'whole run'],
  ['csv', 'copy as CSV'],
  ['svg', 'copy as SVG'],
];

/** The tools of a drawing in one row: one stop for the tab key, arrow keys from tool to tool. */
export class LaneTools extends LitElement {
  static override styles = [
    shared,
    css`
      .tools {
        display: flex;
        flex-wrap: wrap;
        gap: 0.1rem 0.35rem;
        margin-left: -0.55rem;
        font-size: var(--small);
      }
      button[aria-disabled='true'] {
        opacity: 0.5;
        cursor: default;
      }
      .whole {
        margin-right: 0.9rem;
      }
      textarea {
        display: block;
        width: 100%;
        height: 6rem;
        background: var(--field);
        border: 1px solid var(--edge);
        font-size: var(--small);
      }
    `,
  ];

  /** What the tools belong to, for screen readers. */
  @property({ attribute: false }) label = '';
  /** Tools that have nothing to do now. */
  @property({ attribute: false }) idle: ReadonlySet<LaneTool> = new Set();
  /** The tools there are. */
  @property({ attribute: false }) offered: readonly LaneTool[] = tools.map(([tool]) => tool);
  /** Called with the tool that was chosen. A tool that copies gives the text. */
  @property(handler) use: (tool: LaneTool) => string | undefined = () => undefined;
  @state() private chosen: LaneTool | undefined;
  @state() private said = '';
  /** Text that the browser would not let us put on the clipboard. */
  @state() private uncopied: string | undefined;

  protected override render(): TemplateResult {
    return html`<div class="tools on-screen" role="toolbar" aria-label=${this.label} @keydown=${this.key}>
        ${this.shown.map(
          ([tool, words]) =>
            html`<button
              class=${tool}
              data-tool=${tool}
              tabindex=${tool === this.front ? 0 : -1}
              aria-disabled=${this.idle.has(tool)}
              @focus=${() => (this.chosen = tool)}
              @click=${() => void this.take(tool)}
            >
              ${words}
            </button>`,
        )}
        <span class="quiet" role="status">${this.said}</span>
      </div>
      ${
        this.uncopied === undefined
          ? nothing
          : html`<textarea readonly aria-label="text to copy" .value=${this.uncopied}></textarea>`
      }`;
  }

  private get shown(): typeof tools {
    return tools.filter(([tool]) => this.offered.includes(tool));
  }

  /** The tool that the tab key goes to. */
  private get front(): LaneTool | undefined {
    return this.chosen ?? this.offered[0];
  }

  private async take(tool: LaneTool): Promise<void> {
    this.said = '';
    this.uncopied = undefined;
    if (this.idle.has(tool)) return;
    const text = this.use(tool);
    if (text === undefined) return;
    try {
      await navigator.clipboard.writeText(text);
      this.said = `copied, ${Math.ceil(text.length / 1024)} kB`;
    } catch {
      this.said = 'The browser does not allow copying; the text stands below.';
      this.uncopied = text;
    }
  }

  private readonly key = (event: KeyboardEvent): void => {
    const { shown } = this;
    const here = shown.findIndex(([tool]) => tool === this.front);
    const target = { ArrowRight: here + 1, ArrowLeft: here - 1, Home: 0, End: shown.length - 1 }[event.key];
    if (target === undefined) return;
    event.preventDefault();
    const [tool] = shown[(target + shown.length) % shown.length] ?? [];
    this.renderRoot.querySelector<HTMLButtonElement>(`[data-tool='${tool}']`)?.focus();
  };
}
