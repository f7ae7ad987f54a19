import { css } from 'lit';

/** Height of the tape (pixels). */
export const TAPE_HEIGHT = 40;

/** How a knob stands: its name and value, and below them the tape that is pulled past a pointer. */
export const knobStyles = css`
  :host {
    min-width: 0;
  }
  .head {
    display: flex;
    align-items: baseline;
    gap: 0.6rem;
    white-space: nowrap;
  }
  .name {
    font-weight: 650;
  }
  .wrong {
    flex-wrap: wrap;
  }
  .wrong tt-value {
    order: 1;
    flex-basis: 100%;
  }
  :host([chosen]) .name {
    text-decoration: underline 2px var(--rust);
    text-underline-offset: 0.25em;
  }
  button {
    font-size: var(--small);
    margin-left: auto;
    min-height: 1.5rem;
    overflow: hidden;
    text-overflow: ellipsis;
  }
  .tape {
    position: relative;
    height: ${TAPE_HEIGHT}px;
    overflow: hidden;
    cursor: grab;
    touch-action: pan-y;
    user-select: none;
    border-radius: 4px;
    mask-image: linear-gradient(to right, transparent, black 5%, black 95%, transparent);
  }
  .tape:active {
    cursor: grabbing;
  }
  .frame:focus-within {
    outline: 2px solid var(--focus);
    outline-offset: 2px;
    border-radius: 4px;
  }
  .tape:focus-visible {
    outline: none;
  }
  svg {
    display: block;
  }
  line {
    stroke: var(--edge);
  }
  text {
    fill: var(--quiet);
    font-size: 11.5px;
    text-anchor: middle;
  }
  .rest-start {
    fill: none;
    stroke: var(--slate);
    stroke-width: 1.5;
  }
  .pointer {
    fill: var(--rust);
  }
  .pointer-line {
    stroke: var(--rust);
    stroke-width: 2;
  }
`;
