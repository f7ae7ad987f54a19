import { parseDocument } from '@two-thirds/sim/document';
import type { Json } from '../edit/json.ts';
import type { OpenedFile } from './opened-file.ts';

/** What the fragment of a link that holds a document begins with. */
export const SHARED = 'page=';
/** Longest fragment that is made (characters): what mail programs and chats still pass on whole. */
export const LONGEST_LINK = 12_000;
/** Longest fragment that is read (characters). */
const LONGEST_READ = 100_000;
/** Longest document that a fragment may unfold to (bytes): a small fragment can hold an enormous one. */
const LONGEST_UNFOLDED = 1_000_000;
/** How long unfolding may take (ms). */
const PATIENCE = 3000;

/** The fragment that holds a document (deflated, RFC 1951; base64url, RFC 4648), or how long it would have to be. */
export async function packDocument(document: Json): Promise<{ fragment: string } | { tooLong: number }> {
  const bytes = new TextEncoder().encode(JSON.stringify(document));
  const packed = new Blob([bytes]).stream().pipeThrough(new CompressionStream('deflate-raw'));
  const text = base64Url(new Uint8Array(await new Response(packed).arrayBuffer()));
  const fragment = SHARED + text;
  return fragment.length > LONGEST_LINK ? { tooLong: fragment.length } : { fragment };
}

/** Reads a document out of a fragment; whatever the fragment holds, in bounded time and room. */
export async function unpackDocument(fragment: string): Promise<OpenedFile> {
  const text = fragment.slice(SHARED.length);
  if (text.length > LONGEST_READ) {
    return refused(`be at most ${LONGEST_READ} characters long; got ${text.length}`);
  }
  const bytes = fromBase64Url(text);
  if (bytes === undefined) return refused('be made of letters, digits, - and _; got something else');
  const unfolded = await unfold(bytes);
  if (typeof unfolded !== 'string') return refused(unfolded.rule);
  const { unusable } = parseDocument(unfolded);
  if (unusable !== undefined) return { complaint: `The page in this link, ${unusable.message}` };
  return { document: JSON.parse(unfolded) as Json };
}

function refused(rule: string): OpenedFile {
  return { complaint: `The page in this link must ${rule}. Ask for the link again, or for the page as a file.` };
}

async function unfold(bytes: Uint8Array<ArrayBuffer>): Promise<string | { readonly rule: string }> {
  const reader = new Blob([bytes]).stream().pipeThrough(new DecompressionStream('deflate-raw')).getReader();
  const chunks: Uint8Array[] = [];
  const until = performance.now() + PATIENCE;
  let length = 0;
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) break;
      length += value.length;
      if (length > LONGEST_UNFOLDED) {
        void reader.cancel();
        return { rule: `unfold to at most ${LONGEST_UNFOLDED / 1e6} MB; got more` };
      }
      if (performance.now() > until) {
        void reader.cancel();
        return { rule: `be unfolded within ${PATIENCE / 1000} s; it takes longer` };
      }
      chunks.push(value);
    }
    return await new Blob(chunks as Uint8Array<ArrayBuffer>[]).text();
  } catch {
    return { rule: 'be whole; got one that is cut off or changed' };
  }
}

/** Bytes turned into characters at a time: a call takes only so many arguments. */
const CHUNK = 8192;

function base64Url(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += CHUNK) text += String.fromCharCode(...bytes.subarray(at, at + CHUNK));
  return btoa(text).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '');
}

function fromBase64Url(text: string): Uint8Array<ArrayBuffer> | undefined {
  if (!/^[\w-]+$/.test(text)) return undefined;
  try {
    return Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (each) => each.charCodeAt(0));
  } catch {
    return undefined;
  }
}
