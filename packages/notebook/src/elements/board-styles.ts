import { css } from 'lit';

/** How parts lists stand on the page: rows of a table, at phone width one below the other. */
export const boardStyles = css`
      table {
        border-collapse: collapse;
        width: 100%;
        max-width: 52rem;
      }
      th,
      td {
        padding: 0.3rem 1.2rem 0.3rem 0;
        text-align: left;
        vertical-align: baseline;
        border-top: 1px solid var(--line);
      }
      tbody tr:first-child > * {
        border-top: 0;
      }
      tbody th {
        font-weight: 650;
        white-space: nowrap;
      }
      tr.chosen > * {
        background: var(--raised);
      }
      .title {
        color: var(--quiet);
        white-space: nowrap;
      }
      .values {
        display: flex;
        flex-wrap: wrap;
        gap: 0.1rem 1.4rem;
      }
      .pair {
        display: inline-flex;
        gap: 0.45rem;
        align-items: baseline;
        max-width: 100%;
      }
      .pair .word {
        color: var(--quiet);
        font-size: var(--small);
      }
      .defaults button.knob {
        margin-right: 0.9rem;
      }
      .front {
        gap: 0.1rem 1.8rem;
        align-items: baseline;
      }
      .textbook td {
        min-width: 4.5rem;
      }
      td.joins {
        white-space: nowrap;
        padding-right: 0;
      }
      .joins {
        color: var(--quiet);
        font-size: var(--small);
      }
      details {
        margin-top: 0.5rem;
      }
      details > :not(summary) {
        margin-top: 0.4rem;
      }
      .room {
        visibility: hidden;
      }
      ul {
        padding-left: 1.2em;
        max-width: 68ch;
      }
      .cautions {
        margin-top: 1rem;
        padding-left: 1rem;
        border-left: 3px solid var(--gold);
        max-width: 68ch;
        font-size: 0.9375rem;
      }
      .cautions ul {
        list-style: none;
        padding: 0;
      }
      .defaults .values {
        padding-left: 0;
      }
      .defaults p {
        margin: 0.15rem 0;
        font-size: 0.9375rem;
      }
      @media (max-width: 48rem), (min-width: 68.01rem) and (max-width: 80rem) {
        tbody tr {
          display: grid;
          grid-template-columns: auto 1fr;
          column-gap: 0.7rem;
          border-top: 1px solid var(--line);
          padding: 0.35rem 0;
        }
        th,
        td {
          border: 0;
          padding: 0;
        }
        td.values-cell,
        td.joins,
        .textbook td {
          grid-column: 1 / -1;
        }
        .defaults p .joins {
          display: block;
        }
        td.joins {
          white-space: normal;
        }
      }
    `;
