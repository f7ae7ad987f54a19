import { rampLook } from '@two-thirds/sim/chart';
import { css, unsafeCSS } from 'lit';

/** The ramp of maps: `step-0` and so on fill with a colour, `on-step-0` and so on with the ink that reads best on it. */
export const rampStyles = css`
  ${unsafeCSS(rampLook((of) => `light-dark(${of('light')},${of('dark')})`))}
`;
