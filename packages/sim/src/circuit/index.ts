export { cautions } from './cautions.ts';
export { checkCircuit } from './check-circuit.ts';
export type {
  Circuit,
  CircuitData,
  Field,
  FieldFault,
  FieldReader,
  Part,
  PartData,
  PartKind,
  PartKinds,
  Terminal,
} from './description.ts';
