import { css } from 'lit';

/** How parts that are one's own stand in their list: names, kinds and nets are edited in place. */
export const partsStyles = css`
  .end {
    display: inline-flex;
    gap: 0.35rem;
    align-items: baseline;
    margin-right: 0.9rem;
  }
  .end tt-value {
    color: var(--ink);
  }
  /* Where there is little room, ends that are edited stand one below the other. */
  td.joins:has(.end) {
    white-space: normal;
  }
  td.out {
    white-space: nowrap;
    padding-right: 0;
    text-align: right;
  }
  .more {
    margin-top: 0.6rem;
    max-width: 68ch;
    color: var(--quiet);
    font-size: 0.9375rem;
  }
  .choice {
    white-space: nowrap;
  }
  .more button.plain {
    color: var(--ink);
  }
  .more button.plain:hover {
    color: var(--rust);
    background: none;
  }
  td.title select {
    margin-left: -0.2rem;
    color: inherit;
  }
`;
