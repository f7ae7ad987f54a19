import * as v from 'valibot';
import { FORMAT, type NotebookDocument } from './notebook-document.ts';
import { fieldsWording, wording } from './schema-wording.ts';

const FIELDS = ['format', 'version', 'title', 'boards', 'links', 'page'];

const record = v.custom<Record<string, unknown>>(
  (input) => typeof input === 'object' && input !== null && !Array.isArray(input),
  wording('be an object of boards by name', 'Write for example { "counter": { "parts": [ ... ] } }.'),
);

/**
 * The outermost fields of a document after migration. Boards, links and cells are only known to be there: what is wrong
 * inside one of them must not keep the others from working.
 */
export const shellSchema: v.GenericSchema<unknown, NotebookDocument> = v.strictObject(
  {
    format: v.literal(FORMAT),
    version: v.number(),
    title: v.exactOptional(v.string(wording('be text in double quotes', 'Write for example "Axle counter".'))),
    boards: v.optional(record, {}),
    links: v.exactOptional(
      v.array(
        v.unknown(),
        wording('be a list of links', 'Write for example [{ "a": "flasher.out", "b": "counter.in" }].'),
      ),
    ),
    page: v.array(v.unknown(), wording('be a list of cells', 'Write [ ... ] with one { ... } for each cell.')),
  },
  fieldsWording('a document', FIELDS),
);
