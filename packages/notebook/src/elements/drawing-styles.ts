import { css } from 'lit';

/** Wires, symbols and texts of a circuit. */
export const drawingStyles = css`
  .view {
    overflow-x: auto;
  }
  /* Where it goes on it fades, so that nothing looks as if it ended there. */
  .more-left {
    mask-image: linear-gradient(to right, transparent, black 2.2rem);
  }
  .more-right {
    mask-image: linear-gradient(to left, transparent, black 2.2rem);
  }
  .more-left.more-right {
    mask-image: linear-gradient(to right, transparent, black 2.2rem, black calc(100% - 2.2rem), transparent);
  }
  .ways-on {
    display: flex;
    flex-wrap: wrap;
    gap: 0.1rem 1rem;
    min-height: 1.7rem;
    margin-top: 0.2rem;
    font-size: var(--small);
  }
  @media (max-width: 44rem) {
    .ways-on {
      padding-inline: 1rem;
    }
  }
  .ways-on .right {
    margin-left: auto;
  }
  svg {
    display: block;
    max-width: 100%;
    height: auto;
  }
  .wire {
    fill: none;
    stroke: var(--slate);
    stroke-width: 1.5;
  }
  .dot {
    fill: var(--slate);
  }
  .wire.marked {
    stroke: var(--teal);
    stroke-width: 3.2;
  }
  .dot.marked {
    fill: var(--teal);
  }
  .net.marked {
    fill: var(--teal);
    font-weight: 700;
  }
  .line,
  .outline,
  .ink {
    stroke: var(--slate);
    stroke-width: 1.6;
    stroke-linejoin: round;
  }
  .line {
    fill: none;
  }
  .outline {
    fill: var(--panel);
  }
  .ink {
    fill: var(--slate);
  }
  .symbol {
    cursor: pointer;
  }
  .hit {
    fill: transparent;
  }
  .switch .hit {
    stroke: var(--edge);
    stroke-dasharray: 2 3;
  }
  .pressable {
    touch-action: none;
  }
  .pressable .hit {
    stroke: var(--gold);
    stroke-dasharray: 3 3;
  }
  .worked .hit {
    stroke-width: 2;
    stroke-dasharray: none;
  }
  .sound {
    fill: none;
    stroke: var(--gold);
    stroke-width: 1.6;
    stroke-linecap: round;
  }
  .chosen .hit {
    fill: var(--running);
  }
  .symbol:hover .hit {
    fill: var(--shade);
  }
  text {
    font-size: var(--text, 12.5px);
    fill: var(--ink);
  }
  .part {
    font-weight: 650;
  }
  .quiet-text {
    fill: var(--quiet);
  }
  .net {
    fill: var(--quiet);
    paint-order: stroke;
    stroke: var(--panel);
    stroke-width: 4px;
    stroke-linejoin: round;
  }
  .voltage,
  .past {
    fill: var(--gold);
    font-weight: 600;
  }
  .contact {
    fill: none;
    stroke: var(--quiet);
    stroke-width: 1.5;
  }
  .contact.closed {
    stroke: var(--gold);
  }
`;
