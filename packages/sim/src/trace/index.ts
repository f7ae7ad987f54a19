export type { Envelope } from './column-envelope.ts';
export { contactObserver, ContactState, type ContactWatch } from './contact-observer.ts';
export { envelopeObserver } from './envelope-observer.ts';
export type { EventKind, FaultCode, FaultNote, RunEvent, SnapChange } from './event.ts';
export type { Frame, SegmentView, SignalTable } from './frame.ts';
export type { Observer } from './observer.ts';
export { StoredTrace } from './recorder.ts';
export { readContactName, readSignalName } from './signal-name.ts';
