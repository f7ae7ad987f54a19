import { css } from 'lit';

/** Tables of data: quiet heads, a line under each row, no boxes. */
export const tableStyles = css`
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
