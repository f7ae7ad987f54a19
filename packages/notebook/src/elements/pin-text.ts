import { nothing, svg, type SVGTemplateResult } from 'lit';
import type { PlacedPin } from '../schematic/drawing.ts';
import type { TimerLook } from '../schematic/timer-look.ts';

/** Room of one character of a pin's name (pixels). */
const CHARACTER = 6.7;

/**
 * The name of a pin, and at the cursor what it does: an input past its limit, the discharge open or closed.
 *
 * @param size how much larger than usual texts are drawn.
 */
export function pinText(
  { name, x, y, anchor }: PlacedPin,
  look: TimerLook | undefined,
  size: number,
): SVGTemplateResult {
  const past = look?.past[name] === true;
  const sign = !past ? '' : name === 'threshold' ? ' ▲' : ' ▼';
  return svg`<text class=${past ? 'past' : 'quiet-text'} x=${x} y=${y} text-anchor=${anchor}>${name}${sign}</text>
    ${
      name === 'discharge' && look !== undefined && anchor === 'start'
        ? contact(x + name.length * CHARACTER * size + 4, y - 4, look.isDischarging)
        : nothing
    }`;
}

/** A small contact, closed or open. */
function contact(x: number, y: number, isClosed: boolean): SVGTemplateResult {
  return svg`<path class="contact ${isClosed ? 'closed' : ''}" d="M${x} ${y}h5l10 ${isClosed ? 0 : -6}m0 ${
    isClosed ? 0 : 6
  }h5" />`;
}
