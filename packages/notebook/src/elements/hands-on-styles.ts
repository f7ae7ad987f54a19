import { css } from 'lit';

/** The strip of a run by hand. */
export const handsOnStyles = css`
  :host {
    margin: 0.4rem 0 1.4rem;
    padding-top: 0.8rem;
    border-top: 1px solid var(--line);
  }
  .power-up {
    margin-top: 0.6rem;
    padding-left: 0.7rem;
    border-left: 3px solid var(--line);
    font-size: var(--small);
  }
  .head,
  .row {
    display: flex;
    flex-wrap: wrap;
    gap: 0.3rem 0.5rem;
    align-items: center;
  }
  .head {
    min-height: 1.75rem;
  }
  .head button {
    border-color: var(--line);
    font-size: var(--small);
  }
  .time {
    margin-left: auto;
    color: var(--gold);
    font-weight: 600;
  }
  .row {
    margin-top: 0.5rem;
  }
  .row button {
    border-color: var(--line);
    font-size: 0.9375rem;
  }
  .row button.main {
    border-color: var(--edge);
    color: var(--ink);
    min-width: 7.25rem;
  }
  label {
    display: flex;
    gap: 0.5rem;
    align-items: center;
    min-height: 1.75rem;
    font-size: var(--small);
    color: var(--quiet);
  }
  .rate {
    display: grid;
    grid-template-columns: 10.5rem minmax(6rem, 1fr);
    margin-top: 0.4rem;
  }
  input {
    accent-color: var(--slate);
    margin: 0;
  }
  input[type='range'] {
    width: 100%;
    min-width: 0;
    height: 1.5rem;
  }
  .words {
    min-height: 2.8em;
    margin-top: 0.6rem;
    font-size: 0.9375rem;
    line-height: 1.4;
    max-width: 60ch;
  }
  .note {
    margin-top: 0.3rem;
    line-height: 1.4;
    max-width: 60ch;
  }
`;
