import { isRecord, type Json } from '../edit/json.ts';

/** Knows the states that a document has been in: undo and redo lead back to the very same ones, edits to new ones. */
export class VisitedDocuments {
  private readonly visited = new WeakSet<object>();

  /** Takes note of a state. @returns whether the document was in it before. */
  enter(document: Json): boolean {
    if (!isRecord(document)) return false;
    const isKnown = this.visited.has(document);
    this.visited.add(document);
    return isKnown;
  }
}
