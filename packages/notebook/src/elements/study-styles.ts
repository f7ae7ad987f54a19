import { css } from 'lit';

/** What charts of studies have in common: their readout, their sentence, their axes. */
export const studyStyles = css`
  .chart {
    position: relative;
    cursor: crosshair;
    border-radius: 3px;
  }
  svg.lanes {
    display: block;
    width: 100%;
    overflow: visible;
  }
  text {
    fill: var(--quiet);
    font-size: 12.5px;
  }
  .name {
    fill: var(--ink);
    font-size: 13px;
    font-weight: 550;
  }
  .unit {
    font-size: 12px;
    font-weight: 400;
    fill: var(--quiet);
  }
  .axis-tick,
  .rug {
    stroke: var(--edge);
  }
  .uneven {
    fill: url(#uneven);
  }
  .uneven-ground {
    fill: light-dark(#f3ddd0, #4a2c20);
  }
  .uneven-line {
    fill: var(--rust);
  }
  .outline {
    fill: none;
    stroke: var(--edge);
  }
  .cursor {
    stroke: var(--gold);
    stroke-width: 1.6;
    fill: none;
  }
  .now {
    fill: var(--rust);
    stroke: var(--ground);
    stroke-width: 1.2;
  }
  .now-line {
    stroke: var(--rust);
    stroke-dasharray: 2 4;
  }
  /* Always as high as what it says most often needs, so that nothing moves while the pointer does. */
  .readout {
    min-height: 4.5em;
    margin-top: 0.3rem;
    line-height: 1.5;
    font-size: 0.9375rem;
    max-width: 72ch;
  }
  .readout b {
    font-weight: 650;
  }
  .sentence {
    margin-top: 0.7rem;
    max-width: 68ch;
  }
`;
