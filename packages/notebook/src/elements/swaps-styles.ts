import { css } from 'lit';

/** The table of combinations: what must not be built above it, filters, rows that go to the board at a press. */
export const swapsStyles = css`
  .sentence.first {
    margin-top: 0;
  }
  .harms {
    list-style: none;
    display: grid;
    gap: 0.7rem;
    margin-top: 0.9rem;
    padding: 0 0 0 1rem;
    border-left: 3px solid var(--rust);
    max-width: 68ch;
    font-size: 0.9375rem;
  }
  .remedy {
    font-weight: 550;
  }
  .filters {
    display: flex;
    flex-wrap: wrap;
    gap: 0.1rem 1.1rem;
    margin-top: 1rem;
    font-size: 0.9375rem;
  }
  .filters button {
    padding-inline: 0;
  }
  .filters button:hover:not(:disabled) {
    background: none;
  }
  .filters button[aria-pressed='true'] {
    color: var(--ink);
    font-weight: 650;
  }
  .filters .word {
    text-decoration: underline dotted 1px;
    text-underline-offset: 0.22em;
  }
  .filters button[aria-pressed='true'] .word {
    text-decoration: underline solid 2px var(--rust);
  }
  .wide {
    margin-top: 0.4rem;
  }
  th,
  td {
    padding: 0.25rem 0.9rem 0.25rem 0;
    vertical-align: baseline;
    white-space: nowrap;
  }
  @media (max-width: 54rem) {
    th,
    td {
      padding-right: 0.6rem;
    }
    td.know {
      min-width: 7.5rem;
    }
  }
  td.know {
    white-space: normal;
    min-width: 9rem;
  }
  td.number {
    padding-right: 0.5rem;
    text-align: right;
  }
  td.know button {
    text-align: left;
    white-space: nowrap;
  }
  td.know summary {
    list-style: none;
    padding: 0;
    color: var(--ink);
    text-decoration: underline dotted 1px;
    text-underline-offset: 0.22em;
  }
  td.know summary span {
    margin-right: 0.9rem;
  }
  .said {
    font-size: var(--small);
    color: var(--quiet);
    line-height: 1.4;
  }
  .sort {
    padding: 0;
    font-weight: inherit;
    text-decoration: underline dotted 1px;
    text-underline-offset: 0.22em;
  }
  .sort:hover:not(:disabled) {
    background: none;
  }
  .arrow {
    width: 0.6rem;
    height: 0.6rem;
    margin-left: 0.3rem;
    fill: var(--quiet);
  }
  .spot {
    overflow: visible;
  }
  .spot line {
    stroke: var(--line);
  }
  .spot circle {
    fill: var(--slate);
  }
  tr.loads {
    cursor: pointer;
  }
  tr.loads:hover > * {
    background: var(--raised);
  }
  tr.now-row > * {
    box-shadow: inset 0 -2px var(--rust);
  }
  .on-board {
    color: var(--rust);
    font-weight: 600;
    line-height: 1.75rem;
  }
  tr.alike th {
    padding-left: 0.8rem;
  }
  @media (max-width: 40rem) {
    tr {
      display: flex;
      flex-wrap: wrap;
      align-items: baseline;
      gap: 0 1rem;
      padding: 0.25rem 0;
      border-bottom: 1px solid var(--line);
    }
    th,
    td {
      padding: 0;
      border: 0;
    }
    thead .place,
    thead .know,
    thead .board {
      display: none;
    }
    td.number,
    td.none {
      font-weight: 600;
    }
    [data-name]::before {
      content: attr(data-name) ' ';
      color: var(--quiet);
      font-weight: 400;
    }
    td.know {
      min-width: 0;
    }
    tr.now-row > * {
      box-shadow: none;
    }
    tr.loads:hover > * {
      background: none;
    }
    tr.loads:hover {
      background: var(--raised);
    }
    tr.now-row {
      border-bottom: 2px solid var(--rust);
    }
  }
  .pages {
    display: flex;
    flex-wrap: wrap;
    align-items: baseline;
    gap: 0 0.3rem;
    font-size: var(--small);
    color: var(--quiet);
  }
  .pages button[aria-disabled='true'] {
    opacity: 0.5;
    cursor: default;
  }
`;
