import { FORMAT, VERSION } from '@two-thirds/sim/document';
import type { Json } from '../edit/json.ts';

/** A page to begin with: nothing on it but a title to be changed. */
export const emptyPage: Json = { format: FORMAT, version: VERSION, title: 'Untitled page', boards: {}, page: [] };
