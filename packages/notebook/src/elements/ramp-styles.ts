import { css, unsafeCSS } from 'lit';
import { inkOn, RAMP_STEPS, rampColours } from '../chart/ramp.ts';

const [light, dark] = [rampColours('light'), rampColours('dark')];

/** The ramp of maps: `step-0` and so on fill with a colour, `on-step-0` and so on with the ink that reads best on it. */
export const rampStyles = css`
  ${unsafeCSS(
    Array.from({ length: RAMP_STEPS }, (_, step) => {
      const [day, night] = [light[step] ?? '', dark[step] ?? ''];
      return `.step-${step}{fill:light-dark(${day},${night})}
.on-step-${step}{fill:light-dark(${inkOn(day)},${inkOn(night)})}`;
    }).join('\n'),
  )}
`;
