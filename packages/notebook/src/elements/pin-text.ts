import { nothing, svg, type SVGTemplateResult } from 'lit';
import type { PlacedPin } from '../schematic/drawing.ts';
import { dischargeContact, type Room } from '../schematic/room.ts';
import type { TimerLook } from '../schematic/timer-look.ts';

/**
 * The name of a pin, and at the cursor what it does: an input past its limit, the discharge open or closed.
 *
 * @param size how much larger than usual texts are drawn.
 */
export function pinText(pin: PlacedPin, look: TimerLook | undefined, size: number): SVGTemplateResult {
  const { name, x, y, anchor } = pin;
  const past = look?.past[name] === true;
  const sign = !past ? '' : name === 'threshold' ? ' ▲' : ' ▼';
  return svg`<text class=${past ? 'past' : 'quiet-text'} x=${x} y=${y} text-anchor=${anchor}>${name}${sign}</text>
    ${
      name === 'discharge' && look !== undefined && anchor === 'start'
        ? contact(dischargeContact(pin, size), look.isDischarging)
        : nothing
    }`;
}

/** A small contact, closed or open. */
function contact({ left, bottom }: Room, isClosed: boolean): SVGTemplateResult {
  return svg`<path class="contact ${isClosed ? 'closed' : ''}" d="M${left} ${bottom}h5l10 ${isClosed ? 0 : -6}m0 ${
    isClosed ? 0 : 6
  }h5" />`;
}
