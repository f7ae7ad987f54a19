export { cautions } from './cautions.ts';
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
