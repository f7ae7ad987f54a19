import { css } from 'lit';

/** Choices and values that stand in a sentence: in full ink, a dotted line under what can be chosen. */
export const choiceStyles = css`
  tt-value,
  select,
  button.plain {
    color: var(--ink);
  }
  select {
    font: inherit;
    min-height: 1.75rem;
    border: 0;
    border-bottom: 1px dotted var(--edge);
    border-radius: 3px 3px 0 0;
    background: transparent;
  }
  select option {
    background: var(--panel);
    color: var(--ink);
  }
`;
