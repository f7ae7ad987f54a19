import type { CaptureExplanation, CaptureResult } from '@two-thirds/sim/document';
import { css, html, nothing, type TemplateResult } from 'lit';
import { explainsWords, explanationChange } from '../chart/capture-words.ts';
import type { BoardChange } from '../edit/board-change.ts';

/** The list of explanations. */
export const explanationStyles = css`
  ol {
    padding-left: 1.4rem;
    margin: 0;
    max-width: 68ch;
  }
  ol li + li {
    margin-top: 0.45rem;
  }
  .how {
    font-weight: 650;
  }
  .how.part {
    font-weight: 550;
    color: var(--quiet);
  }
`;

/** What is done with an explanation, and that all of them are to be listed. */
export interface Explained {
  readonly load: (change: BoardChange) => void;
  readonly open: (change: BoardChange) => void;
  readonly listAll: () => void;
}

/**
 * What may stand behind the difference, the best first.
 *
 * @param all whether what brings the prediction no closer is listed too; {@link Explained.listAll} asks for it.
 */
export function captureExplanations(
  { explanations }: CaptureResult,
  all: boolean,
  explained: Explained,
): TemplateResult | typeof nothing {
  const helpful = explanations.filter(({ explains }) => explains !== 'none');
  const others = explanations.length - helpful.length;
  if (explanations.length === 0) return nothing;
  const shown = all ? explanations : helpful;
  return html`<h3>What may stand behind the difference, the best first</h3>
    <ol>
      ${shown.map((each, index) => html`<li>${explanation(each, index, explained)}</li>`)}
    </ol>
    ${
      others === 0 || all
        ? nothing
        : html`<button class="plain" @click=${explained.listAll}>
            and ${others} that ${others === 1 ? 'brings' : 'bring'} the prediction no closer
          </button>`
    }`;
}

function explanation(each: CaptureExplanation, index: number, { load, open }: Explained): TemplateResult {
  const change = explanationChange(each);
  return html`<span class="how ${each.explains}">${explainsWords[each.explains]}${
    index > 0 && each.asGoodAsFirst ? ', as well as the first' : nothing
  }:</span>
    ${each.sentence}
    ${
      change === undefined || each.explains === 'none'
        ? nothing
        : html`<button
            class="plain"
            aria-label=${`set the board to it: ${each.kind} of ${each.part}`}
            @click=${() => load(change)}
          >
            set the board to it
          </button>
          <button
            class="plain"
            aria-label=${`open it as a board of its own: ${each.kind} of ${each.part}`}
            @click=${() => open(change)}
          >
            open it as a board of its own
          </button>`
    }`;
}
