import { css } from 'lit';

/** How a cell stands on the page: its words in the margin, its content beside them. */
export const cellStyles = css`
  :host {
    display: grid;
    grid-template-columns: 6.5rem minmax(0, 1fr);
    column-gap: 1rem;
    scroll-margin-top: 5rem;
  }
  .margin {
    display: flex;
    flex-direction: column;
    align-items: flex-start;
    min-width: 0;
  }
  .margin-word {
    padding-top: 0.35rem;
  }
  .name {
    max-width: 100%;
    margin-top: 0.2rem;
    padding: 0;
    font-size: var(--small);
    text-align: left;
    overflow-wrap: anywhere;
    opacity: 0;
  }
  .name:hover {
    background: none;
  }
  :host(:hover) .name,
  :host(:focus-within) .name,
  .name[aria-expanded='true'] {
    opacity: 1;
    text-decoration: underline dotted 1px;
    text-underline-offset: 0.22em;
  }
  @media (hover: none) {
    .name {
      opacity: 1;
    }
  }
  .folded {
    text-align: left;
    padding-inline: 0;
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
  .say {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0.2rem 0.8rem;
    margin-bottom: 0.6rem;
    font-size: var(--small);
    color: var(--gold);
  }
  progress {
    accent-color: var(--gold);
    width: 8rem;
    height: 0.6rem;
  }
  .complaint {
    margin-bottom: 0.5rem;
  }
  .expected {
    max-width: 68ch;
    margin-bottom: 1rem;
    padding-left: 1rem;
    border-left: 3px solid var(--gold);
    white-space: pre-line;
  }
  @media (max-width: 44rem) {
    :host {
      display: block;
    }
    .margin {
      flex-direction: row;
      align-items: baseline;
      gap: 0.8rem;
    }
    .name {
      min-height: 1.5rem;
      margin-block: -0.2rem 0.1rem;
    }
    .margin-word {
      padding: 0 0 0.45rem;
    }
  }
`;
