/** What is pressed by going down and up on it. */
const PRESSED = 'button, a[href], summary, label, input[type="checkbox"], input[type="radio"]';

interface Press {
  readonly pointer: number;
  readonly button: HTMLElement;
  /** Where it stood in the window. */
  readonly place: DOMRect;
  isUp: boolean;
}

/**
 * Lets a press on this window be one though the page moves under the hand: a browser counts it only where the button still is
 * when the hand goes up, and has a finger press what it finds there instead; but a result that comes in at that moment moves
 * the button. It acts when the hand goes up, and whoever takes the hand away first has not pressed (WCAG 2.2, success
 * criterion 2.5.2).
 */
export function keepPressesSteady(window: Window): void {
  let press: Press | undefined;
  const forget = (): void => {
    press = undefined;
  };
  /** Whether what was pressed is still there, but no longer where the hand went up. */
  const hasMoved = (event: MouseEvent): boolean =>
    press?.isUp === true && press.button.isConnected && !event.composedPath().includes(press.button);

  // They hear of everything before what stands on the page does.
  window.addEventListener(
    'pointerdown',
    (event) => {
      forget();
      const button = event.composedPath().find(isPressed);
      if (button === undefined || !event.isPrimary || event.button !== 0) return;
      press = { pointer: event.pointerId, button, place: button.getBoundingClientRect(), isUp: false };
    },
    true,
  );
  window.addEventListener(
    'pointerup',
    (event) => {
      if (press?.pointer !== event.pointerId) return;
      press.isUp = isInside(press.place, event);
      if (!press.isUp) forget();
    },
    true,
  );
  window.addEventListener('pointercancel', forget, true);
  // Whoever moves the page themselves knows where the button goes.
  window.addEventListener('wheel', forget, { capture: true, passive: true });
  window.addEventListener(
    'mousedown',
    (event) => {
      // After a finger has gone up it is told as a mouse that goes down and up there: that is not to take the focus.
      if (hasMoved(event)) event.preventDefault();
    },
    true,
  );
  window.addEventListener(
    'click',
    (event) => {
      // Keys and scripts press what they mean.
      if (event.detail === 0) return;
      const lost = hasMoved(event) ? press : undefined;
      forget();
      // With such a key held down, a link leads to another place.
      if (lost === undefined || event.ctrlKey || event.metaKey || event.shiftKey) return;
      event.preventDefault();
      event.stopImmediatePropagation();
      lost.button.click();
    },
    true,
  );
}

function isPressed(each: EventTarget): each is HTMLElement {
  return each instanceof HTMLElement && each.matches(PRESSED);
}

function isInside({ left, right, top, bottom }: DOMRect, { clientX, clientY }: PointerEvent): boolean {
  return clientX >= left && clientX <= right && clientY >= top && clientY <= bottom;
}
