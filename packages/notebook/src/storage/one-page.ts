import type { Json } from '../edit/json.ts';
import { type OpenedFile, readText } from './opened-file.ts';

/** Address of the program for pages of one file, set when the app is built; `undefined` in such a page itself. */
declare const ONE_PAGE_PROGRAM: string | undefined;

/** Ids of the two elements that a page of one file consists of. */
const PAGE = 'two-thirds-page';
const PROGRAM = 'two-thirds-program';

/**
 * The page's mark in a data address, since a page of one file has no picture beside it: a capacitor on its way past two
 * thirds.
 */
const icon = `data:image/svg+xml,${encodeURIComponent(
  "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 24 24'><path d='M2.5 21C6 13.5 10 9.5 15 7.2V21H21.5' fill='none' stroke='#a8431f' stroke-width='2.2' stroke-linecap='round'/></svg>",
)}`;

/** Whether this page is one file that brings its document along. */
export function isOnePage(): boolean {
  return document.getElementById(PAGE) !== null;
}

/** The document that a page of one file brings along, or what is wrong with it. */
export function broughtDocument(): OpenedFile {
  return readText(document.getElementById(PAGE)?.textContent ?? '', 'The page in this file');
}

/**
 * The program that makes a file a notebook: from the app's own files, or, in a page of one file, that page's own.
 *
 * @throws if the app's file can be had neither from the network nor from what the browser keeps.
 */
export async function onePageProgram(): Promise<string> {
  if (ONE_PAGE_PROGRAM === undefined) return document.getElementById(PROGRAM)?.textContent ?? '';
  const response = await fetch(new URL(ONE_PAGE_PROGRAM, document.baseURI));
  if (!response.ok) throw new Error(`the answer ${response.status} ${response.statusText}`.trim());
  return response.text();
}

/** What of a document goes into a page of one file. */
export interface OnePage {
  readonly title: string;
  readonly document: Json;
  readonly program: string;
  /** Hash of the program, base64 of SHA-256, as {@link hashOf} gives it. */
  readonly hash: string;
}

/**
 * A document with the whole notebook in one HTML file. Its policy lets this very program run, and the workers that it
 * starts from memory, and nothing else: no other script, no address, no frame, no form. The document stands in it as data;
 * no text in it can end the element that holds it.
 */
export function onePageHtml({ title, document: data, program, hash }: OnePage): string {
  const policy = `default-src 'none'; script-src 'sha256-${hash}'; worker-src blob:; img-src data:; base-uri 'none'; form-action 'none'`;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<title>${escapeText(title)}</title>
<link rel="icon" href="${icon}">
<script type="application/json" id="${PAGE}">${escapeData(JSON.stringify(data))}</script>
</head>
<body>
<noscript>This page computes its experiments with JavaScript, which is turned off here.</noscript>
<script type="module" id="${PROGRAM}">${program}</script>
</body>
</html>
`;
}

/** SHA-256 of a text, base64, as content security policies write it (W3C CSP Level 3, section 2.3.1). */
export async function hashOf(text: string): Promise<string> {
  const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(text));
  return btoa(String.fromCharCode(...new Uint8Array(digest)));
}

/** JSON in a script element: without a `<`, nothing in it reads as a tag or comment; JSON's own escape means the same. */
function escapeData(json: string): string {
  return json.replaceAll('<', '\\u003c');
}

function escapeText(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;');
}
