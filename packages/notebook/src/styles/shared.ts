import { css } from 'lit';

/** What all elements share: box sizes, focus, buttons, text fields, margin words, text for screen readers alone. */
export const shared = css`
  *,
  ::before,
  ::after {
    box-sizing: border-box;
  }
  :host {
    display: block;
  }
  :host([hidden]),
  [hidden] {
    display: none !important;
  }
  :focus-visible {
    outline: 2px solid var(--focus);
    outline-offset: 2px;
    border-radius: 2px;
  }
  h1,
  h2,
  h3,
  p,
  ul,
  ol,
  dl,
  dd {
    margin: 0;
  }
  a {
    color: var(--teal);
    text-underline-offset: 0.18em;
  }
  button,
  input,
  textarea {
    font: inherit;
    color: inherit;
    font-variant-numeric: inherit;
  }
  button {
    min-height: 1.75rem;
    padding: 0.1rem 0.55rem;
    border: 1px solid transparent;
    border-radius: 4px;
    background: none;
    color: var(--quiet);
    cursor: pointer;
    max-width: 100%;
  }
  button:hover:not(:disabled) {
    color: var(--ink);
    background: var(--raised);
  }
  button:disabled {
    color: var(--quiet);
    opacity: 0.55;
    cursor: default;
  }
  button.plain {
    padding-inline: 0;
    text-decoration: underline dotted 1px;
    text-underline-offset: 0.22em;
  }
  summary {
    cursor: pointer;
    padding-block: 0.2rem;
    line-height: 1.25rem;
    color: var(--quiet);
    width: fit-content;
  }
  summary:hover {
    color: var(--ink);
  }
  .margin-word {
    font-size: var(--margin-word);
    font-weight: 650;
    letter-spacing: 0.09em;
    text-transform: uppercase;
    color: var(--quiet);
  }
  /* Names and units mean something else in capitals: ms is a time, MS is not. */
  .as-written {
    text-transform: none;
    letter-spacing: normal;
    font-size: var(--small);
  }
  .quiet {
    color: var(--quiet);
  }
  .small {
    font-size: var(--small);
  }
  .complaint {
    color: var(--rust);
    font-size: var(--small);
    line-height: 1.4;
    max-width: 60ch;
  }
  .unseen {
    position: absolute;
    width: 1px;
    height: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
  /* On paper nothing can be pressed or pointed at: what is folded away is left out, and what must be known is open. */
  @media print {
    .on-screen,
    details:not([open], .on-paper) {
      display: none !important;
    }
    select {
      appearance: none;
    }
    .on-paper::details-content {
      content-visibility: visible;
      block-size: auto;
    }
  }
  @media (prefers-reduced-motion: no-preference) {
    button {
      transition:
        color 120ms,
        background-color 120ms;
    }
  }
`;
