import type { CaptureOutcome, CaptureRequest } from '@two-thirds/sim/document';
import { proxy, wrap } from 'comlink';
import type { CaptureWorker } from './protocol.ts';
import { simulationProgram } from './worker-files.ts';

/** Hears of a file that is being read. */
interface ReadListener {
  share(share: number): void;
  done(outcome: CaptureOutcome): void;
}

/** Begins to read a file of measurements; gives the means to end that early. */
export type StartReader = (file: Blob, request: CaptureRequest, listener: ReadListener) => () => void;

/** Reads files in a worker of their own, so that neither the page nor its studies wait for a long one. */
export const startReader: StartReader = (file, request, listener) => {
  const worker = simulationProgram();
  const end = (): void => worker.terminate();
  const fail = (): void => {
    end();
    const rule = 'be a file that can be read';
    const fault = { field: 'data', rule, got: 'an error', advice: 'Choose it once more.' } as const;
    listener.done({ ok: false, fault });
  };
  worker.addEventListener('error', fail);
  const reader = wrap<CaptureWorker>(worker);
  reader
    .readCapture(
      file,
      request,
      proxy((share: number) => listener.share(share)),
    )
    .then((outcome) => {
      end();
      listener.done(outcome);
    }, fail);
  return end;
};
