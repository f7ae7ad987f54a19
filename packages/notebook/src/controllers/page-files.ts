import type { Json } from '../edit/json.ts';
import { titleOf } from '../runtime/cells.ts';
import { saveAs, savePage, saveTo } from '../storage/file-access.ts';
import { hashOf, onePageHtml, onePageProgram } from '../storage/one-page.ts';
import { LONGEST_LINK, packDocument } from '../storage/share-link.ts';
import type { NotebooksController, OpenNotebook } from './notebooks-controller.ts';
import type { Notices } from './notices.ts';

/** What leads out of the browser: pages saved as files, shared as links and as pages of one file. Says what came of it. */
export class PageFiles {
  private readonly notebooks: NotebooksController;
  private readonly notices: Notices;

  constructor(notebooks: NotebooksController, notices: Notices) {
    this.notebooks = notebooks;
    this.notices = notices;
  }

  /** Saves to the file that the page came from or went to before, else to one that is chosen now. */
  async save(page: OpenNotebook): Promise<void> {
    const { file } = page;
    if (file === undefined) {
      await this.saveAs(page);
      return;
    }
    try {
      await saveTo(file, page.history.document);
      this.say(`Saved to ${file.name}.`);
    } catch (error) {
      const text = `${file.name} must be a file that can be written; got: ${reasonOf(error)}. It is as it was. Use “save as file”.`;
      this.notices.say({ about: 'saved', text, isUrgent: true });
    }
  }

  /** Saves to a file that is chosen now. */
  async saveAs({ key, history: { document } }: OpenNotebook): Promise<void> {
    const saved = await saveAs(document, titleOf(document));
    if (saved === undefined || saved === 'download') return;
    this.notebooks.change(key, { file: saved });
    this.say(`Saved to ${saved.name}.`);
  }

  /** Makes a link that holds the whole page. */
  async shareLink(document: Json): Promise<void> {
    const packed = await packDocument(document);
    if ('tooLong' in packed) {
      const text = `A link must be at most ${LONGEST_LINK} characters long; this page would need ${packed.tooLong}. Share it as one file.`;
      this.notices.say({ about: 'link', text, isUrgent: true });
      return;
    }
    const copy = `${location.href.replace(/#.*$/, '')}#${packed.fragment}`;
    // Where the clipboard is not to be had, the link can be copied by hand.
    const copied = await navigator.clipboard?.writeText(copy).then(
      () => 'It is on the clipboard. ',
      () => '',
    );
    const text = `This link holds the whole page as it is now. ${copied ?? ''}Whoever opens it gets a page of their own.`;
    this.notices.say({ about: 'link', text, isUrgent: false, copy });
  }

  /** Makes one HTML file of the page and all that it needs to work. */
  async sharePage(document: Json): Promise<void> {
    try {
      const program = await onePageProgram();
      const title = titleOf(document);
      const name = savePage(onePageHtml({ title, document, program, hash: await hashOf(program) }), title);
      this.say(
        `${name.file} holds this page as it is now and everything it needs to work (${(name.bytes / 1e6).toFixed(1)} MB). Any browser opens it from disk, without a network.`,
      );
    } catch (error) {
      const text = `The page must be put together from files of this app; got: ${reasonOf(error)}. Nothing was saved. Try again with a network, or use “save as file”.`;
      this.notices.say({ about: 'saved', text, isUrgent: true });
    }
  }

  private say(text: string): void {
    this.notices.say({ about: 'saved', text, isUrgent: false });
  }
}

function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
