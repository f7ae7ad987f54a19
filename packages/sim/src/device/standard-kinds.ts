import type { PartKind, PartKinds } from '../circuit/description.ts';
import { buzzer } from './kinds/buzzer.ts';
import { capacitor } from './kinds/capacitor.ts';
import { button, jumper, toggleSwitch } from './kinds/contact.ts';
import { diode } from './kinds/diode.ts';
import { finger } from './kinds/finger.ts';
import { led } from './kinds/led.ts';
import { pot } from './kinds/pot.ts';
import { probe } from './kinds/probe.ts';
import { relay, solenoid } from './kinds/relay.ts';
import { resistor } from './kinds/resistor.ts';
import { signal } from './kinds/signal.ts';
import { source } from './kinds/source.ts';
import { speaker } from './kinds/speaker.ts';
import { supply } from './kinds/supply.ts';
import { timer } from './kinds/timer.ts';
import { transistor } from './kinds/transistor.ts';

const all: readonly PartKind[] = [
  supply,
  signal,
  resistor,
  pot,
  capacitor,
  button,
  jumper,
  toggleSwitch,
  diode,
  led,
  transistor,
  source,
  speaker,
  buzzer,
  relay,
  solenoid,
  finger,
  probe,
  timer,
];

/** Every part kind there is, by name. */
export const standardKinds: PartKinds = new Map(all.map((kind) => [kind.kind, kind]));
