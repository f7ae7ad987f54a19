export { cautions, USUAL_CAUTIONS } from './cautions.ts';
export { dangers } from './dangers.ts';
export { checkCircuit } from './check-circuit.ts';
export type {
  Circuit,
  CircuitData,
  Field,
  Part,
  PartData,
  PartKind,
  PartKinds,
  Terminal,
} from './description.ts';
