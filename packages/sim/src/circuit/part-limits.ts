/** A polarised capacitor bears this much the wrong way round (V); common practice, no source. */
export const REVERSE_LIMIT = 0.5;

/** From here on a reversed LED may be damaged (V); common practice, no source. */
export const LED_REVERSE_LIMIT = 5;

/** Power a resistor is taken to bear until a rating is stated (W); common practice, no source. */
export const RESISTOR_RATING = 0.25;

/** How far (V) the inputs of a timer may go beyond its supply and its ground; an ideal timer does not mind. */
const PIN_MARGINS: Readonly<Record<string, number>> = {
  ideal: Number.POSITIVE_INFINITY,
  // Makers allow nothing above the supply (TI-F p. 4); a junction below ground starts to conduct at about this; from memory.
  bipolar: 0.5,
  // ICM p. 8-172, note 1: beyond it a CMOS timer may latch up and be destroyed.
  cmos: 0.3,
};

/** How far (V) the inputs of a timer of a family may go beyond its supply and its ground; 0 for an unknown family. */
export function pinMargin(family: string): number {
  return PIN_MARGINS[family] ?? 0;
}
