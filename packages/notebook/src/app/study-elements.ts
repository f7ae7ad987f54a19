import { CaptureOverlay } from '../elements/tt-capture.ts';
import { CaptureSource } from '../elements/tt-capture-source.ts';
import { Choose } from '../elements/tt-choose.ts';
import { Claim } from '../elements/tt-claim.ts';
import { StudyMap } from '../elements/tt-map.ts';
import { Seen } from '../elements/tt-seen.ts';
import { Spread } from '../elements/tt-spread.ts';
import { Study } from '../elements/tt-study.ts';
import { StudyPlan } from '../elements/tt-study-plan.ts';
import { Swaps } from '../elements/tt-swaps.ts';
import { Sweep } from '../elements/tt-sweep.ts';
import { Symptoms } from '../elements/tt-symptoms.ts';

/** The elements of cells that make many runs, by tag: fetched once the page shows, which most pages do without them. */
export const studyElements: Readonly<Record<string, CustomElementConstructor>> = {
  'tt-capture': CaptureOverlay,
  'tt-capture-source': CaptureSource,
  'tt-choose': Choose,
  'tt-claim': Claim,
  'tt-map': StudyMap,
  'tt-seen': Seen,
  'tt-spread': Spread,
  'tt-study': Study,
  'tt-study-plan': StudyPlan,
  'tt-swaps': Swaps,
  'tt-sweep': Sweep,
  'tt-symptoms': Symptoms,
};
