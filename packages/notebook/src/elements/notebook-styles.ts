import { css } from 'lit';

/** The two areas of an open document, and the tray below them. */
export const notebookStyles = css`
  :host {
    display: grid;
    /* Width that the page does not use is the circuit's: wide drawings need it. */
    grid-template-columns: minmax(24rem, clamp(30rem, 100vw - 67rem, 46rem)) minmax(0, 1fr);
    flex: 1;
  }
  aside {
    position: sticky;
    top: 0;
    align-self: start;
    height: 100dvh;
    overflow-y: auto;
    padding: 1.6rem 1.75rem calc(var(--tray-height) + 1rem);
    scroll-padding-bottom: calc(var(--tray-height) + 1rem);
    background: var(--panel);
    border-right: 1px solid var(--line);
  }
  main {
    padding: 1.8rem 2.5rem 4rem;
    min-width: 0;
  }
  .title {
    display: block;
    font-size: 1.65rem;
    line-height: 1.25;
    font-weight: 650;
    letter-spacing: -0.01em;
    margin: 0 0 1.4rem 7.3rem;
    --underline: transparent;
  }
  .cells {
    display: grid;
    grid-template-columns: minmax(0, 1fr);
    gap: 2rem;
    max-width: 62rem;
  }
  tt-tray {
    position: sticky;
    bottom: 0;
    grid-column: 1 / -1;
    z-index: 2;
  }
  .end {
    margin-left: 7.5rem;
  }
  .complaint {
    margin: 0 0 1rem 7.5rem;
  }
  .fold {
    display: none;
  }
  @media (max-width: 68rem) {
    :host {
      display: block;
    }
    aside {
      position: static;
      height: auto;
      border-right: 0;
      border-bottom: 1px solid var(--line);
      padding: 0.4rem 1rem;
    }
    .fold {
      display: block;
      width: calc(100% + 1.1rem);
      max-width: none;
      text-align: left;
      padding: 0.2rem 0.55rem;
      margin-inline: -0.55rem;
      min-height: 2.25rem;
    }
    .folded tt-circuit,
    .bare {
      display: none;
    }
    tt-circuit {
      padding: 0.4rem 0 0.8rem;
      max-width: 48rem;
    }
    main {
      padding: 1.3rem 1rem 3rem;
    }
  }
  @media (max-width: 44rem) {
    .title {
      margin: 0 0 1.2rem -0.2rem;
      font-size: 1.4rem;
    }
    .end,
    .complaint {
      margin-left: 0;
    }
  }
  /* On paper there is the page, with the circuit in hand above it; nothing can be turned or pressed. */
  @media print {
    /* The title of a page stands at its head, above the circuit. */
    :host {
      display: flex;
      flex-direction: column;
    }
    main {
      display: contents;
    }
    .title {
      order: -1;
      margin-left: 0;
    }
    aside {
      position: static;
      height: auto;
      overflow: visible;
      padding: 0;
      border: 0;
    }
    .folded tt-circuit {
      display: block;
    }
    tt-circuit {
      max-width: 30rem;
      padding: 0;
    }
    .cells {
      margin-top: 1rem;
    }
    /* A word in the margin stays with what it heads; the list of a board's parts may be longer than a sheet has room. */
    tt-cell:not(.board) {
      break-inside: avoid;
    }
  }
`;
