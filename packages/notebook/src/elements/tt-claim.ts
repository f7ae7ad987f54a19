import { cellSvg, claimDrawing, claimLegend, claimLook, claimScene } from '@two-thirds/sim/chart';
import { cellCsv, type ClaimResult } from '@two-thirds/sim/document';
import { css, html, LitElement, nothing, type TemplateResult } from 'lit';
import { property } from 'lit/decorators.js';
import {
  claimTables,
  counterexampleWords,
  distanceWords,
  isInBox,
  stretchWords,
  trialWords,
  verdictWords,
} from '../chart/claim-words.ts';
import type { PointValue } from '../edit/load-point.ts';
import { WidthController } from '../controllers/width-controller.ts';
import { shared } from '../styles/shared.ts';
import { chartLook } from './chart-look.ts';
import { drawn } from './drawn.ts';
import { studyStyles } from './study-styles.ts';
import type { LaneTool } from './tt-lane-tools.ts';
import { spokenName } from '@two-thirds/sim/quantity';

/** A rule that people believe, with what came of trying it: the verdict, the simplest case against it, how far off it is. */
export class Claim extends LitElement {
  static override styles = [
    shared,
    studyStyles,
    chartLook(claimLook),
    css`
      .verdict {
        font-weight: 650;
      }
      .verdict.fails {
        color: var(--rust);
      }
      .counterexample {
        margin-top: 0.5rem;
        padding-left: 1rem;
        border-left: 3px solid var(--rust);
        max-width: 68ch;
      }
      p:first-child {
        margin-top: 0.4rem;
      }
      figure {
        margin: 0.9rem 0 0;
      }
      ul {
        padding-left: 1.1rem;
        margin-top: 0.5rem;
      }
    `,
  ];

  /** Id of the cell. */
  @property({ attribute: false }) cell = '';
  @property({ attribute: false }) result: ClaimResult | undefined;
  /** Called with the values that the board is to have. */
  @property({ attribute: false }) load: (values: readonly PointValue[]) => void = () => undefined;
  /** Called with the values that a board of its own is to have. */
  @property({ attribute: false }) open: (values: readonly PointValue[]) => void = () => undefined;
  private readonly size = new WidthController(this);

  protected override render(): TemplateResult | typeof nothing {
    const { result } = this;
    const { width } = this.size;
    if (result === undefined || width === 0) return nothing;
    const { verdict } = result;
    return html`<p>
        <span class="verdict ${verdict}">${verdictWords(result)}</span>
        <span class="quiet">${trialWords(result)}</span>
      </p>
      ${this.counterexample(result)} ${result.over.map((course) => this.course(course, result))}
      ${this.legend(result, width)}
      <tt-lane-tools
        .label=${`Copies of ${this.cell}`}
        .offered=${['csv', 'svg'] as const}
        .use=${(tool: LaneTool) => this.copy(tool)}
      ></tt-lane-tools>
      <p class="sentence">${result.sentence}</p>
      <tt-data-tables .label=${`Trials of ${this.cell}`} .tables=${() => claimTables(result)}></tt-data-tables>`;
  }

  private counterexample(result: ClaimResult): TemplateResult | typeof nothing {
    const words = counterexampleWords(result);
    const values = Object.entries(result.counterexample?.values ?? {}).map((each) => this.pointValue(each));
    if (words === undefined) return nothing;
    return html`<p class="counterexample">
      The simplest case against it. ${words}
      ${
        values.length === 0
          ? nothing
          : html`<button class="plain" @click=${() => this.load(values)}>set the board to it</button>
            <button class="plain" @click=${() => this.open(values)}>open it as a board of its own</button>`
      }
    </p>`;
  }

  private pointValue([name, value]: readonly [string, number | string]): PointValue {
    return { name, value, unit: this.result?.over.find((course) => course.value === name)?.unit ?? null };
  }

  /** What the marks in its drawings mean; nothing where there is no drawing. */
  private legend(result: ClaimResult, width: number): TemplateResult | typeof nothing {
    if (result.over.every((course) => claimScene(course, width, result) === undefined)) return nothing;
    const { drawing, height } = claimLegend(result, 0, width);
    return html`<svg class="lanes" viewBox="0 0 ${width} ${height}" height=${height} aria-hidden="true">
      ${drawn(drawing)}
    </svg>`;
  }

  private course(course: ClaimResult['over'][number], result: ClaimResult): TemplateResult {
    const { box } = result;
    const scene = claimScene(course, this.size.width, result);
    if (scene !== undefined) {
      return html`<figure>
        <svg
          class="lanes"
          role="img"
          aria-label=${`${distanceWords(result)} over ${spokenName(course.value)}; ${stretchWords(course, box)}the numbers stand in the table below`}
          viewBox="0 0 ${scene.width} ${scene.height}"
          height=${scene.height}
        >
          ${drawn(claimDrawing(scene))}
        </svg>
      </figure>`;
    }
    return html`<ul>
      ${course.x.map((at, index) => html`<li>${spokenName(course.value)} ${at}: ${course.verdicts[index] ?? 'open'}${isInBox(course, box, at) ? ', together with others as well' : nothing}</li>`)}
    </ul>`;
  }

  private copy(tool: LaneTool): string | undefined {
    const { result } = this;
    if (result === undefined) return undefined;
    // Every chart of the cell, not only the first.
    return tool === 'csv' ? cellCsv(this.cell, result)[0]?.text : cellSvg(result);
  }
}
