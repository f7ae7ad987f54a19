import { inkOn, RAMP_STEPS, rampColours, type Theme } from './ramp.ts';

/** Inks and grounds of charts by name; a page has them for its theme, a file of its own those of {@link lightInks}. */
export type Ink =
  | 'ground'
  | 'raised'
  | 'panel'
  | 'ink'
  | 'quiet'
  | 'line'
  | 'edge'
  | 'slate'
  | 'rust'
  | 'moss'
  | 'plum'
  | 'gold'
  | 'teal'
  | 'bar'
  | 'on-bar'
  | 'shade'
  | 'running'
  | 'hatched';

/** The inks of charts on paper, each at least 4.5:1 on the ground where it is text or a line. */
export const lightInks: Readonly<Record<Ink, string>> = {
  ground: '#f7f7f3',
  panel: '#ffffff',
  raised: '#eef0ea',
  ink: '#1b262b',
  quiet: '#56656c',
  line: '#d9ddd5',
  edge: '#7d8a8f',
  slate: '#2f4858',
  rust: '#a8431f',
  moss: '#52701a',
  plum: '#7a3b69',
  gold: '#8a5f00',
  teal: '#1b7181',
  bar: '#1f7a8c',
  'on-bar': '#ffffff',
  shade: '#2f48580f',
  running: '#a8431f26',
  hatched: '#f3ddd0',
};

/** Gives the colour of an ink as style sheets write it. */
type InkOf = (ink: Ink) => string;

/** A style sheet for the classes of some drawings. */
export type Look = (ink: InkOf) => string;

/** Texts keep a rim of the ground, so that they stay readable over lines. */
const rim = (ink: InkOf): string => `paint-order:stroke;stroke:${ink('ground')};stroke-width:4px;stroke-linejoin:round`;

/** Axes, names and marks that all studies have. */
export const studyLook: Look = (ink) => `
text{fill:${ink('quiet')};font-size:12.5px}
.name{fill:${ink('ink')};font-size:13px;font-weight:550}
.unit{font-size:12px;font-weight:400;fill:${ink('quiet')}}
.axis-tick,.rug{stroke:${ink('edge')}}
.outline{fill:none;stroke:${ink('edge')}}
.now{fill:${ink('rust')};stroke:${ink('ground')};stroke-width:1.2}
.now-line{stroke:${ink('rust')};stroke-dasharray:2 4}
`;

/** Fills of places without one value (see `study-patterns.ts`). */
export const patternLook: Look = (ink) => `
.uneven{fill:url(#uneven)}
.uneven-ground{fill:${ink('hatched')}}
.uneven-line{fill:${ink('rust')}}
.without{fill:url(#without)}
.without-ground{fill:${ink('raised')}}
.without-dot{fill:${ink('edge')}}
`;

/** Marks of pulses by their fate; shape and fill alone tell them apart as well. */
export const fateLook: Look = (ink) => `
.fate{stroke-width:1.6;stroke:${ink('rust')};fill:${ink('ground')}}
.fate.started{fill:${ink('rust')}}
.fate.held{stroke:${ink('plum')};fill:url(#stripes)}
.fate.short{stroke:${ink('gold')};fill:${ink('gold')}}
.fate.barred,.cross{stroke:${ink('quiet')}}
.cross{fill:none;stroke-width:1.4}
.stripe-ground{fill:${ink('ground')}}
.stripe{fill:${ink('plum')}}
.fate-count{font-size:12px;text-anchor:middle;fill:${ink('ink')}}
`;

/** Lines and strips of sweeps; every ink has a dash and a shape of its own. */
export const sweepLook: Look = (ink) => `
.series{fill:none;stroke-width:1.8;stroke-linejoin:round}
.look-0{stroke:${ink('slate')}}
.look-1{stroke:${ink('rust')};stroke-dasharray:7 4}
.look-2{stroke:${ink('teal')};stroke-dasharray:2 3.5}
.look-3{stroke:${ink('plum')};stroke-dasharray:11 3 2 3}
.look-4{stroke:${ink('moss')};stroke-dasharray:4 2}
.look-5{stroke:${ink('gold')};stroke-dasharray:14 5}
.rule{fill:none;stroke:${ink('ink')};stroke-width:1.4;stroke-dasharray:5 3}
.rule-name{fill:${ink('ink')};font-size:12px;${rim(ink)}}
.bridge{stroke-width:1;stroke-dasharray:none;opacity:0.55}
.dot{stroke-dasharray:none;stroke-width:1.6;fill:${ink('ground')}}
.dot.pointed{stroke-width:2.6}
.foot{stroke:${ink('line')};stroke-width:1.5}
.jump{stroke:${ink('edge')};stroke-dasharray:1.5 3.5;stroke-linecap:round;stroke-width:1.3}
.region{stroke:${ink('edge')};fill:${ink('panel')}}
.region.other{fill:${ink('raised')}}
.region.uneven{fill:url(#uneven);stroke:${ink('rust')}}
.region-text{fill:${ink('ink')};font-weight:600;text-anchor:middle}
`;

/** Regions, lines and texts of maps. */
export const mapLook: Look = (ink) => `
.halo{fill:none;stroke:${ink('ground')};stroke-width:3.2;stroke-linejoin:round;opacity:0.75}
.contour{fill:none;stroke:${ink('ink')};stroke-width:1.3;stroke-linejoin:round}
.contour.border{stroke-width:0.8}
.former{fill:none;stroke:${ink('ink')};stroke-width:1.3;stroke-dasharray:5 3;stroke-linejoin:round}
.former-halo{fill:none;stroke:${ink('ground')};stroke-width:3.6;stroke-linejoin:round}
.region-name{font-size:21px;font-weight:650;text-anchor:middle;stroke-width:4px;stroke-linejoin:round;paint-order:stroke}
.region-name.small{font-size:14px}
.line-name{fill:${ink('ink')};font-size:12px;font-weight:600;text-anchor:middle;${rim(ink)}}
.ring{fill:none;stroke:${ink('ground')};stroke-width:4.5}
.ring.ink{stroke:${ink('rust')};stroke-width:2.4}
.swatch{stroke:${ink('edge')}}
`;

/** Bars and marks of spreads. */
export const spreadLook: Look = (ink) => `
.samples{fill:${ink('bar')}}
.samples.outside{fill:${ink('rust')}}
.limit{stroke:${ink('rust')};stroke-width:1.5;stroke-dasharray:6 3}
.worst{stroke:${ink('ink')};stroke-width:1.2;stroke-dasharray:1.5 3}
.mark-name{${rim(ink)}}
.middle{stroke:${ink('slate')};stroke-width:5;opacity:0.55}
`;

/** Names and dots of tables of readings. */
export const rowLook: Look = (ink) => `
.row-name{fill:${ink('ink')};font-size:12px}
.row-name.harm{fill:${ink('rust')}}
.row-mark{stroke-width:1.6;fill:${ink('ground')};stroke:${ink('slate')}}
.row-mark.plain,.row-mark.good{fill:${ink('slate')}}
.row-mark.good{fill:${ink('teal')};stroke:${ink('teal')}}
.row-mark.same{stroke:${ink('quiet')}}
.row-mark.harm{stroke:${ink('rust')};stroke-width:2}
.allowed{fill:${ink('moss')};opacity:0.16}
`;

/** Errors and verdicts of claims. */
export const claimLook: Look = (ink) => `
.error{fill:none;stroke:${ink('slate')};stroke-width:1.6}
.zero{stroke:${ink('edge')};stroke-dasharray:1.5 4.5;stroke-linecap:round}
.stretch{fill:${ink('moss')};opacity:0.16}
.together{fill:none;stroke:${ink('plum')};stroke-width:2}
.together-end{stroke:${ink('plum')};stroke-width:1.2;stroke-dasharray:5 3}
.mark{stroke-width:1.6;fill:${ink('ground')};stroke:${ink('slate')}}
.mark.fails{stroke:${ink('rust')};stroke-width:2}
.mark.open{stroke:${ink('quiet')}}
`;

/** Lanes of traces with their axis. */
export const traceLook: Look = (ink) => `
text{fill:${ink('quiet')};font-size:13px}
.name{fill:${ink('ink')};font-weight:550}
.name,.limit-name{${rim(ink)}}
.unit,.tick{font-size:12px;font-weight:400}
.unit{fill:${ink('quiet')}}
.trace{fill:none;stroke:${ink('slate')};stroke-width:1.8;stroke-linejoin:round}
.zero,.foot{stroke:${ink('line')};stroke-width:1.5}
.limit{fill:none;stroke:${ink('edge')};stroke-width:1.3;stroke-dasharray:1.5 4.5;stroke-linecap:round}
.limit-name{font-size:12px;text-anchor:end}
.shade{fill:${ink('shade')}}
.bar{fill:${ink('bar')}}
.bar.crowded{opacity:0.45}
.bar-label{fill:${ink('on-bar')};text-anchor:middle;font-size:12.5px}
.open{stroke:${ink('edge')};stroke-width:1.3}
.contact .bar{fill:${ink('slate')}}
.contact .bar-label{fill:${ink('ground')}}
.running{fill:${ink('running')}}
.running-band{fill:${ink('rust')};opacity:0.55}
.link{stroke:${ink('rust')};stroke-width:1.8;fill:none}
.axis-tick{stroke:${ink('edge')}}
.axis text{font-size:12.5px}
`;

/** Measurements: measured in a full line, predicted in dashes, what is left below. */
export const captureLook: Look = (ink) => `
.measured{fill:none;stroke:${ink('teal')};stroke-width:2;stroke-linejoin:round}
.left .measured{stroke-width:1.4}
.band{fill:${ink('teal')};opacity:0.3}
.predicted{fill:none;stroke:${ink('rust')};stroke-width:1.6;stroke-dasharray:7 4}
.noise{fill:${ink('shade')}}
.gap{fill:url(#missing)}
.missing-line{stroke:${ink('edge')}}
.zero{stroke:${ink('line')};stroke-width:1.5}
.aligned{stroke:${ink('gold')};stroke-dasharray:1.5 4;stroke-linecap:round;stroke-width:1.5}
.stem{fill:none;stroke:${ink('slate')};stroke-width:1.4}
.head{fill:${ink('ground')};stroke:${ink('slate')};stroke-width:1.6}
`;

/**
 * The ramp of maps: `step-0` and so on fill with a colour, `on-step-0` and so on with the ink that reads best on it, and rim
 * with the colour, so that no line crosses a letter.
 */
export function rampLook(colour: (of: (theme: Theme) => string) => string): string {
  const ramps = { light: rampColours('light'), dark: rampColours('dark') };
  return Array.from({ length: RAMP_STEPS }, (_, step) => {
    const of = (theme: Theme): string => ramps[theme][step] ?? '';
    return `.step-${step}{fill:${colour(of)}}\n.on-step-${step}{fill:${colour((theme) => inkOn(of(theme)))};stroke:${colour(of)}}`;
  }).join('\n');
}
