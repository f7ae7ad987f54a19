/** A page that comes with the notebook. */
export interface Example {
  /** Short name in addresses, for example `axle-counter`. */
  readonly key: string;
  /** The document as the text of its file. */
  readonly text: string;
}

const files = import.meta.glob<string>('../../../../worked-examples/**/*.tt.json', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/** The worked examples, in the order of their folders. */
export const examples: readonly Example[] = Object.entries(files)
  .sort(([a], [b]) => a.localeCompare(b))
  .map(([path, text]) => ({ key: path.replace(/^.*\//, '').replace(/\.tt\.json$/, ''), text }));
