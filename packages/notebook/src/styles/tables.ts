import { css } from 'lit';

/** What may be wider than its place, and is scrolled there: where it goes on, its edge lies in shade. */
export const wideStyles = css`
  .wide {
    overflow-x: auto;
    background:
      linear-gradient(to right, var(--ground) 60%, transparent) left / 2.4rem 100% no-repeat local,
      linear-gradient(to left, var(--ground) 60%, transparent) right / 2.4rem 100% no-repeat local,
      linear-gradient(to right, var(--beyond), transparent) left / 1rem 100% no-repeat scroll,
      linear-gradient(to left, var(--beyond), transparent) right / 1rem 100% no-repeat scroll;
  }
  @media print {
    .wide {
      overflow: visible;
      background: none;
    }
  }
`;

/** Tables of data: quiet heads, a line under each row, no boxes. */
export const tableStyles = css`
  ${wideStyles}
  table {
    border-collapse: collapse;
    font-size: 0.9375rem;
  }
  caption {
    text-align: left;
    color: var(--quiet);
    padding-bottom: 0.3rem;
  }
  th,
  td {
    padding: 0.25rem 1.2rem 0.25rem 0;
    text-align: left;
    vertical-align: top;
    border-bottom: 1px solid var(--line);
  }
  th {
    color: var(--quiet);
    font-weight: 500;
  }
`;
