/** Titles of the documents that sources of family parameters name, by their short names. */
export const familyDocuments: Readonly<Record<string, string>> = {
  'TI-92': 'Texas Instruments NE555 data sheet SLFS022, revision of February 1992',
  'TI-A': 'Texas Instruments NE555 data sheet SLFS022A, September 2000',
  'TI-F': 'Texas Instruments NE555 data sheet SLFS022F, June 2006',
  ST: 'STMicroelectronics NE555 data sheet, Doc ID 2182 revision 6',
  ON: 'onsemi MC1455/D, revisions 7 to 10',
  TLC: 'Texas Instruments TLC555 data sheet SLFS043C, 1997',
  LMC: 'Texas Instruments LMC555 data sheet, issue of 2006',
  ICM: 'Intersil ICM7555 data sheet FN2867',
  TS: 'STMicroelectronics TS555 data sheet',
};

/** The documents that sources name, each as `TS: its title`, in the order of their list. */
export function documentsNamed(sources: readonly string[]): string[] {
  return Object.entries(familyDocuments).flatMap(([name, title]) => {
    const word = new RegExp(`\\b${name}\\b`);
    return sources.some((source) => word.test(source)) ? [`${name}: ${title}`] : [];
  });
}
