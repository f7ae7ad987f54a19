import { css } from 'lit';

/** The head of the page with its commands. */
export const appStyles = css`
  :host {
    min-height: 100dvh;
    display: flex;
    flex-direction: column;
  }
  header {
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    gap: 0.2rem 1.4rem;
    padding: 0.6rem 1.75rem;
    background: var(--panel);
    border-bottom: 1px solid var(--line);
  }
  .home {
    display: flex;
    align-items: center;
    gap: 0.6rem;
    color: var(--ink);
    font-weight: 700;
    font-size: 1.0625rem;
    text-decoration: none;
    min-height: 1.75rem;
  }
  .mark {
    width: 1.5rem;
    height: 1.5rem;
  }
  .mark path {
    fill: none;
    stroke: var(--rust);
    stroke-width: 2.2;
    stroke-linecap: round;
  }
  .mark line {
    stroke: var(--edge);
    stroke-width: 1.4;
    stroke-dasharray: 0.5 3;
    stroke-linecap: round;
  }
  .commands {
    margin-left: auto;
    display: flex;
    flex-wrap: wrap;
    gap: 0.1rem 0.4rem;
    font-size: 0.9375rem;
    min-width: 0;
  }
  .commands button {
    max-width: 19rem;
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
  }
  .commands button[aria-disabled='true'] {
    opacity: 0.55;
    cursor: default;
  }
  .kept {
    align-self: center;
    color: var(--quiet);
    font-size: var(--small);
  }
  tt-notebook {
    flex: 1;
  }
  .dropping {
    outline: 3px dashed var(--rust);
    outline-offset: -8px;
  }
  @media (max-width: 60rem) {
    .commands {
      font-size: 0.875rem;
      gap: 0.1rem;
      justify-content: flex-end;
    }
    .kept {
      margin-right: auto;
    }
  }
  @media (max-width: 48rem) {
    header {
      padding: 0.35rem 1rem;
    }
    .commands {
      font-size: var(--small);
      justify-content: flex-start;
    }
    .commands button[aria-disabled='true']:not(:focus) {
      display: none;
    }
    .kept {
      display: none;
    }
    .commands button {
      max-width: 10rem;
      padding-inline: 0.4rem;
    }
  }
`;
