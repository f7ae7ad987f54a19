import { type CaptureOutcome, CaptureReader, type CaptureRequest } from '@two-thirds/sim/document';
import { encodingOf } from '../runtime/capture-text.ts';

/** So much of a file is read before the rest, to find out whether its columns are known at all (bytes). */
const HEAD = 65_536;

/**
 * Reads a measurement from a file in bounded memory, whatever its length.
 *
 * @param report hears the share that is read, 0 to 1.
 */
export async function readCaptureFile(
  file: Blob,
  request: CaptureRequest,
  report: (share: number) => void,
): Promise<CaptureOutcome> {
  try {
    const begin = new Uint8Array(await file.slice(0, HEAD).arrayBuffer());
    const encoding = encodingOf(begin);
    // A file whose columns cannot be told is not read to its end only to say so.
    const tried = new CaptureReader(request);
    tried.push(new TextDecoder(encoding).decode(begin));
    const first = tried.end();
    if (!first.ok && first.fault.field === 'columns') return first;
    return await readAll(file, encoding, new CaptureReader(request), report);
  } catch {
    const rule = 'be a file that can be read';
    return { ok: false, fault: { field: 'data', rule, got: 'an error', advice: 'Choose it once more.' } };
  }
}

async function readAll(
  file: Blob,
  encoding: string,
  reader: CaptureReader,
  report: (share: number) => void,
): Promise<CaptureOutcome> {
  const decoder = new TextDecoder(encoding);
  const stream = file.stream().getReader();
  let bytes = 0;
  for (let chunk = await stream.read(); !chunk.done; chunk = await stream.read()) {
    reader.push(decoder.decode(chunk.value, { stream: true }));
    bytes += chunk.value.length;
    report(bytes / Math.max(1, file.size));
  }
  reader.push(decoder.decode());
  return reader.end();
}
