import { patternLook, studyLook } from '@two-thirds/sim/chart';
import { css } from 'lit';
import { chartFrame, chartLook } from './chart-look.ts';

/** What charts of studies have in common: their readout, their sentence, their axes. */
export const studyStyles = [
  chartLook(studyLook),
  chartLook(patternLook),
  chartFrame,
  css`
  .chart {
    position: relative;
    cursor: crosshair;
    border-radius: 3px;
  }
  .cursor {
    fill: none;
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
`,
];
