import { css } from 'lit';

/** The chart that lanes stand in: its pointer, its hint, the grip of the axis, the legend below. */
export const traceStyles = css`
  .chart {
    position: relative;
    touch-action: pan-y;
    cursor: crosshair;
    border-radius: 3px;
  }
  /* Beside the title of the axis, where nothing moves when it comes and goes: a click that follows must not miss. */
  .hint {
    position: absolute;
    left: 0;
    bottom: -0.1rem;
    font-size: var(--small);
    color: var(--quiet);
    visibility: hidden;
  }
  .chart:focus-visible .hint:not(.narrow) {
    visibility: visible;
  }
  .axis-grip {
    fill: transparent;
  }
  .axis-grip.part {
    cursor: grab;
  }
  .marked {
    fill: var(--gold);
    opacity: 0.18;
  }
  tt-overview {
    margin: 0.2rem 0 0.4rem;
  }
  ul.legend {
    list-style: none;
    padding: 0;
    margin-top: 0.3rem;
    display: flex;
    flex-wrap: wrap;
    gap: 0.2rem 1.4rem;
    font-size: var(--small);
    color: var(--quiet);
  }
  .legend svg {
    vertical-align: -0.3em;
    margin-right: 0.35rem;
  }
  .legend b {
    color: var(--ink);
    font-weight: 650;
  }
`;
