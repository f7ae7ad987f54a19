import { css, html, type TemplateResult } from 'lit';

/** What to be careful of, before the numbers it is about. */
export const cautionStyles = css`
  .caution {
    max-width: 68ch;
    margin-bottom: 0.7rem;
    padding-left: 1rem;
    border-left: 3px solid var(--rust);
    font-size: 0.9375rem;
  }
`;

/** The cautions of a result, each a paragraph. */
export function cautionLines(cautions: readonly string[]): TemplateResult[] {
  return cautions.map((caution) => html`<p class="caution">${caution}</p>`);
}
