import { css } from 'lit';

/** A lit LED: light of its own colour inside a ring, so that no colour is needed to tell that it is lit. */
export const lampStyles = css`
  .glow {
    fill: var(--lamp-red);
  }
  .glow.bright-red {
    fill: var(--lamp-bright-red);
  }
  .glow.yellow {
    fill: var(--lamp-yellow);
  }
  .glow.green {
    fill: var(--lamp-green);
  }
  .glow.blue {
    fill: var(--lamp-blue);
  }
  .glow.white {
    fill: var(--lamp-white);
  }
  .ring {
    fill: none;
    stroke: var(--slate);
    stroke-width: 1.5;
  }
`;
