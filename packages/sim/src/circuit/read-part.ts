import type { Issue } from '../core/errors.ts';
import { foundText, quotedText } from '../core/found-text.ts';
import { nearestName } from '../core/nearest-name.ts';
import type { FieldFault } from '../field/field-reader.ts';
import { isObject, ownEntry, spread } from '../field/record.ts';
import { insteadOfKind } from './beyond-exact.ts';
import type { Field, Part, PartKind, PartKinds } from './description.ts';
import { isName, nameFault } from './names.ts';

/** One entry of a parts list after reading. */
export interface ReadPart {
  /** What messages call it: its name, or its place in the list where it has no usable one. */
  readonly label: string;
  readonly issues: readonly Issue[];
  /** The part; absent when there is any fault. */
  readonly part?: Part;
  /** Nets that it seems to mention, for looking at the whole circuit in spite of its faults; empty if it has none. */
  readonly mentioned: readonly string[];
  /** True where a net could not be read, so that the part may hang on any net. */
  readonly netsUnclear: boolean;
}

/** Where messages about one part point to. */
export interface PartPlace {
  /** Put before everything, for example `boards.counter`; empty for none. */
  readonly place: string;
  /** The part's position in the list. */
  readonly index: number;
  /** Position of an earlier part that has this part's name already, if one has. */
  readonly earlier?: number;
}

/** Unknown fields of one object beyond this number are not listed: it is something else altogether. */
export const MOST_UNKNOWN = 20;

/** Reads one entry of a parts list with all its faults. Never throws. */
export function readPart(input: unknown, kinds: PartKinds, place: PartPlace): ReadPart {
  const byPlace = `parts[${place.index}]`;
  if (!isObject(input)) {
    const message = `must be an object with name and kind; got ${foundText(input)}. Write for example { "name": "R1", "kind": "resistor", ... }.`;
    const issues = [partIssue('not-an-object', place, byPlace, undefined, message)];
    return { label: byPlace, issues, mentioned: [], netsUnclear: true };
  }
  const issues: Issue[] = [];
  const givenName = ownEntry(input, 'name');
  const wrongName = nameFault(givenName, 'R1');
  const name = wrongName === undefined ? String(givenName) : undefined;
  const label = place.earlier === undefined ? (name ?? byPlace) : byPlace;
  const report: Report = (code, field, message, about) => {
    const issue = partIssue(code, place, label, field, message, name);
    issues.push(about === undefined ? issue : { ...issue, field: about });
  };
  if (wrongName !== undefined) {
    report(givenName === undefined ? 'missing-field' : 'bad-name', 'name', wrongName);
  }
  if (name !== undefined && place.earlier !== undefined) {
    const message = `must be used only once; got "${name}", which parts[${place.earlier}] has already. Rename one of the two.`;
    report('double-name', 'name', message);
  }
  const mentioned = mentionedNets(input);
  const kind = readKind(ownEntry(input, 'kind'), kinds, report);
  if (kind === undefined) return { label, issues, mentioned, netsUnclear: true };

  reportUnknownFields(input, kind, report);
  const beforeNets = issues.length;
  const nets = readNets(input, kind, report);
  const netsUnclear = issues.length > beforeNets;
  const values = readValues(input, kind, report);
  if (issues.length === 0) reportDerived(kind, values, report);
  const result = {
    label,
    issues,
    mentioned: netsUnclear ? mentioned : Object.values(nets),
    netsUnclear,
  };
  if (issues.length > 0 || name === undefined) return result;
  return { ...result, part: { name, kind: kind.kind, nets, values } };
}

/**
 * A part that has been read, with one field given anew; undefined where its whole entry must be read again: the value is
 * refused, or other fields follow from this one.
 */
export function withField(part: Part, kind: PartKind, field: string, input: unknown): Part | undefined {
  if (kind.derive !== undefined || kind.fields.some(({ defaultFrom }) => defaultFrom !== undefined)) return undefined;
  const read = kind.fields.find(({ name }) => name === field)?.read(input);
  return read?.ok === true ? { ...part, values: { ...part.values, [field]: read.value } } : undefined;
}

/** An issue about a part. `message` is without the place: "must ...; got ...". `field` may carry a path. */
export function partIssue(
  code: string,
  place: Pick<PartPlace, 'place'>,
  label: string,
  field: string | undefined,
  message: string,
  part?: string,
  severity: Issue['severity'] = 'fault',
): Issue {
  const start = place.place === '' ? label : `${place.place}.${label}`;
  const issue = {
    code,
    severity,
    where: field === undefined ? start : `${start}.${field}`,
    message: field === undefined ? `${start} ${message}` : `${start}: ${field} ${message}`,
  };
  const topField = field?.replace(/[.[].*$/s, '');
  return {
    ...issue,
    ...(part === undefined ? {} : { part }),
    ...(topField === undefined ? {} : { field: topField }),
  };
}

/** Takes down an issue; `about` is the field it is about where the message does not begin with it. */
type Report = (code: string, field: string | undefined, message: string, about?: string) => void;

function readKind(input: unknown, kinds: PartKinds, report: Report): PartKind | undefined {
  const kind = typeof input === 'string' ? kinds.get(input) : undefined;
  if (kind !== undefined) return kind;
  const near = typeof input === 'string' ? nearestName(input, kinds.keys()) : undefined;
  const instead = typeof input === 'string' ? insteadOfKind(input) : undefined;
  const advice = instead ?? (near === undefined ? 'Choose one of these.' : `Did you mean ${near}?`);
  const message = `must be one of ${[...kinds.keys()].join(', ')}; got ${foundText(input)}. ${advice}`;
  report(input === undefined ? 'missing-field' : 'unknown-kind', 'kind', message);
  return undefined;
}

function reportUnknownFields(input: Readonly<Record<string, unknown>>, kind: PartKind, report: Report): void {
  const nets = kind.terminals.map((terminal) => terminal.name);
  const allowed = [
    ...(kind.netsUnder === undefined ? nets : [kind.netsUnder]),
    ...kind.fields.map((field) => field.name),
  ];
  const unknown = Object.keys(input).filter((name) => name !== 'name' && name !== 'kind' && !allowed.includes(name));
  for (const name of unknown.slice(0, MOST_UNKNOWN)) {
    let advice = 'Take it out.';
    const near = nearestName(name, allowed);
    if (kind.netsUnder !== undefined && nets.includes(name)) advice = `Put it under ${kind.netsUnder}.`;
    else if (near !== undefined) advice = `Did you mean ${near}?`;
    const message = `must have no other fields than name, kind, ${allowed.join(', ')}; got ${quotedText(name)}. ${advice}`;
    report('unknown-field', undefined, message, name);
  }
}

/** Reads the net of every terminal. */
function readNets(input: Readonly<Record<string, unknown>>, kind: PartKind, report: Report): Record<string, string> {
  const nets: Record<string, string> = {};
  const under = kind.netsUnder;
  const names = kind.terminals.map((terminal) => terminal.name);
  const holder = under === undefined ? input : ownEntry(input, under);
  if (!isObject(holder)) {
    const message = `must be an object with the nets of ${names.join(', ')}; got ${foundText(holder)}. Write for example { "${names[0]}": "rail", ... }.`;
    report(holder === undefined ? 'missing-net' : 'bad-net', under, message);
    return nets;
  }
  const prefix = under === undefined ? '' : `${under}.`;
  if (under !== undefined) {
    for (const name of Object.keys(holder)
      .filter((key) => !names.includes(key))
      .slice(0, MOST_UNKNOWN)) {
      const near = nearestName(name, names);
      const advice = near === undefined ? 'Take it out.' : `Did you mean ${near}?`;
      report(
        'unknown-pin',
        under,
        `must have no other pins than ${names.join(', ')}; got ${quotedText(name)}. ${advice}`,
      );
    }
  }
  for (const terminal of kind.terminals) {
    const given = ownEntry(holder, terminal.name);
    if (given === undefined && terminal.default !== undefined) nets[terminal.name] = terminal.default;
    else if (given === undefined && terminal.required) {
      report(
        'missing-net',
        prefix + terminal.name,
        'must name a net; got nothing. Write the name of the net it is joined to.',
      );
    } else if (given !== undefined) {
      const wrong = nameFault(given, 'rail');
      if (wrong === undefined) nets[terminal.name] = given as string;
      else report('bad-net', prefix + terminal.name, wrong);
    }
  }
  for (const { name, together } of kind.terminals) {
    if (together === undefined || ownEntry(holder, name) === undefined) continue;
    if (together.some((other) => ownEntry(holder, other) !== undefined)) continue;
    const message = `must come with ${together.join(' or ')}; got ${name} alone, which leads nowhere. Name the net of the other end of the contact.`;
    report('missing-net', prefix + name, message);
  }
  return nets;
}

function readValues(input: Readonly<Record<string, unknown>>, kind: PartKind, report: Report): Record<string, unknown> {
  const values: Record<string, unknown> = {};
  for (const field of kind.fields) {
    const given = ownEntry(input, field.name);
    if (given === undefined) {
      const value = defaultOf(field, values)?.value;
      if (value !== undefined) values[field.name] = value;
      else if (field.required === true) {
        report('missing-field', field.name, `must be given; got nothing. Add the ${field.title}.`);
      }
      continue;
    }
    const read = field.read(given);
    if (read.ok) values[field.name] = read.value;
    else reportField('bad-value', field.name, read, report);
  }
  return values;
}

/**
 * The default of a field and where it comes from, given the part's other values; `undefined` where it has none.
 */
export function defaultOf(
  field: Field,
  values: Readonly<Record<string, unknown>>,
): { readonly value: unknown; readonly source?: string } | undefined {
  if (field.defaultFrom !== undefined) return field.defaultFrom(values);
  if (field.default === undefined) return undefined;
  return field.source === undefined ? { value: field.default } : { value: field.default, source: field.source };
}

/** Adds what follows from several fields to `values`, or reports that they do not go together. */
function reportDerived(kind: PartKind, values: Record<string, unknown>, report: Report): void {
  const derived = kind.derive?.(values);
  if (derived === undefined) return;
  if (derived.ok) Object.assign(values, derived.values);
  else reportField('bad-value', derived.field, derived, report);
}

function reportField(code: string, field: string, found: FieldFault, report: Report): void {
  for (const one of spread(found, '')) report(code, `${field}${one.path ?? ''}`, one.message);
}

/** Every text in the entry, and in objects in it, that could be a net's name. */
function mentionedNets(input: Readonly<Record<string, unknown>>): string[] {
  const texts: unknown[] = [];
  for (const [key, value] of Object.entries(input)) {
    if (key === 'name' || key === 'kind') continue;
    if (isObject(value)) texts.push(...Object.values(value));
    else texts.push(value);
  }
  return texts.filter((text): text is string => typeof text === 'string' && isName(text));
}
