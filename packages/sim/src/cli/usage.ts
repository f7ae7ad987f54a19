/** What `--help` prints. */
export const USAGE = `Computes experiments with timer circuits from notebook documents (*.tt.json).

  two-thirds compute FILE [--json] [--csv DIR] [--svg DIR] [--only ID,...]
                          [--workers N]
      Compute every cell of the page and print it.
      --json         print one JSON object instead of text
      --csv DIR      also write the tables of every cell as CSV files into DIR,
                     over files of the same name
      --svg DIR      also draw every trace and study as an SVG file of its own
                     into DIR
      --only ID,...  only these cells
      --workers N    run sweeps, claims and all other studies in N threads (if
                     left out, in as many as there is work for: short pages in
                     one); the results are the same for any N
      --capture ID=FILE
                     take FILE as the measurement of capture cell ID, wherever it
                     lies; may be given several times

      --shard I/N    run only part I of N of the jobs of all studies, and print
                     them, to be merged later on this or another machine
      --merge FILE,...  take the jobs of such parts instead of running them

      Studies are sweep, map, spread, choose, claim, swaps, symptoms and capture.
      Ctrl-C ends whatever is computed early, long runs of traces and readings
      too, and prints what there is, with exit status 1; a second one ends the
      program at once.

  two-thirds check FILE
      Read the file and report what is wrong with it, without computing.

  two-thirds families FROM TO
      What changes when a timer of one family (ideal, bipolar, cmos) takes the
      place of one of another.

  two-thirds --help
  two-thirds --version

Exit status: 0 computed; 1 a fault inside a board or cell, a claim that fails,
or a run that stopped early; 2 the file or the command line cannot be used. Messages go to stderr.
`;

/** Where to look when the command line was not understood. */
export const SEE_HELP = 'See two-thirds --help.';
