import { css } from 'lit';

/** How a cell stands on the page: its words in the margin, its content beside them. */
export const cellStyles = css`
  :host {
    position: relative;
    display: grid;
    grid-template-columns: 6.5rem minmax(0, 1fr);
    column-gap: 1rem;
    scroll-margin-top: 5rem;
  }
  /* What is painted of a cell is kept while others change. Lists of names that open over other cells do so in the focus. */
  :host(:not(:focus-within)) {
    isolation: isolate;
  }
  :host(:hover) tt-margin,
  :host(:focus-within) tt-margin {
    --name-shown: 1;
  }
  .plan {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0 0.5rem;
    margin-top: 0.5rem;
    color: var(--quiet);
    font-size: var(--small);
  }
  .complaint {
    margin-bottom: 0.5rem;
  }
  .expected {
    max-width: 68ch;
    margin-bottom: 1rem;
    padding-left: 1rem;
    border-left: 3px solid var(--gold);
  }
  .expected p {
    white-space: pre-line;
  }
  .revealed {
    margin-bottom: 0.4rem;
  }
  .compared {
    max-width: 68ch;
    margin-top: 0.6rem;
    padding-left: 1rem;
    border-left: 3px solid var(--rust);
    font-size: 0.9375rem;
  }
  .power-up {
    max-width: 68ch;
    margin-top: 0.8rem;
    padding-left: 1rem;
    border-left: 3px solid var(--line);
    font-size: 0.9375rem;
  }
  @media (max-width: 44rem) {
    :host {
      display: block;
    }
  }
`;
