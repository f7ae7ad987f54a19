import { buzzer } from './buzzer.ts';
import { capacitor, probe } from './capacitor.ts';
import { button, jumper, switchPart } from './contact.ts';
import type { Device } from './contract.ts';
import { finger } from './finger.ts';
import { diode, led } from './junction.ts';
import { relay, solenoid } from './relay.ts';
import { pot, resistor, speaker } from './resistor.ts';
import { source } from './source.ts';
import { signal, supply } from './supply.ts';
import { timer } from './timer.ts';
import { transistor } from './transistor.ts';

const all: readonly Device[] = [
  supply,
  signal,
  resistor,
  pot,
  capacitor,
  button,
  jumper,
  switchPart,
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

/** Every device there is, by the part kind it serves. */
export const standardDevices: ReadonlyMap<string, Device> = new Map(all.map((device) => [device.kind, device]));
