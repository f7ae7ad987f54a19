import { captureLook } from '@two-thirds/sim/chart';
import { css } from 'lit';
import { chartLook } from './chart-look.ts';

/** Inks of a capture: measured in a full line, predicted in dashes, what is left below. */
export const captureStyles = [
  chartLook(captureLook),
  css`
  .cursor-dot {
    fill: var(--gold);
    stroke: var(--ground);
    stroke-width: 1.5;
  }
  ul.legend {
    list-style: none;
    display: flex;
    flex-wrap: wrap;
    gap: 0.2rem 1.4rem;
    margin: 0.3rem 0;
    padding: 0;
    font-size: var(--small);
    color: var(--quiet);
  }
  .legend svg {
    vertical-align: -0.2em;
    margin-right: 0.4rem;
  }
`,
];
