import { css } from 'lit';

/**
 * Design tokens for the whole document. Every ink is at least 4.5:1 on both grounds of its theme; the dark theme is a
 * signal box at night: cool dark grounds, warm lamp inks.
 */
export const tokens = css`
  :root {
    color-scheme: light dark;
    --ground: light-dark(#f7f7f3, #10171a);
    --panel: light-dark(#ffffff, #172024);
    --raised: light-dark(#eef0ea, #202b30);
    --ink: light-dark(#1b262b, #e9ece6);
    --quiet: light-dark(#56656c, #a3b1b4);
    --line: light-dark(#d9ddd5, #2e3b41);
    --edge: light-dark(#7d8a8f, #72858c);
    --slate: light-dark(#2f4858, #b4cbd8);
    --rust: light-dark(#a8431f, #f2986d);
    --moss: light-dark(#52701a, #b1c96a);
    --plum: light-dark(#7a3b69, #dd9dca);
    --gold: light-dark(#8a5f00, #e8bd5f);
    --teal: light-dark(#1b7181, #62bfcf);
    --bar: light-dark(#1f7a8c, #2f8d9e);
    --on-bar: light-dark(#ffffff, #06141a);
    --shade: light-dark(#2f48580f, #b4cbd814);
    --beyond: light-dark(#2f485852, #b4cbd866);
    --running: light-dark(#a8431f26, #f2986d2e);
    --field: light-dark(#ffffff, #0c1214);
    /* Light of LEDs by their colour; what is lit also has a ring in the ink of the wires. */
    --lamp-red: light-dark(#d3283a, #ff6a70);
    --lamp-bright-red: light-dark(#e8501f, #ff8d5c);
    --lamp-yellow: light-dark(#e0ac00, #ffd84f);
    --lamp-green: light-dark(#3a9d4a, #62d97c);
    --lamp-blue: light-dark(#2f6fe0, #6da6ff);
    --lamp-white: light-dark(#cfe0f7, #eef4ff);
    --focus: light-dark(#1b5fb8, #8fc0ff);
    --small: 0.8125rem;
    --margin-word: 0.75rem;
    /* Until the tray is measured. */
    --tray-height: 6.25rem;
    background: var(--ground);
    color: var(--ink);
    font:
      1rem/1.55 system-ui,
      -apple-system,
      'Segoe UI',
      Roboto,
      'Noto Sans',
      'Open Sans',
      'DejaVu Sans',
      sans-serif;
    font-variant-numeric: tabular-nums;
    /* Names may be of any length. */
    overflow-wrap: break-word;
    -webkit-text-size-adjust: 100%;
    scroll-padding: 4rem 0 calc(var(--tray-height) + 1rem);
  }
  :root[data-theme='light'] {
    color-scheme: light;
  }
  :root[data-theme='dark'] {
    color-scheme: dark;
  }
  /* Paper is white. */
  @media print {
    :root,
    :root[data-theme] {
      color-scheme: light;
      --ground: #ffffff;
    }
  }
  @page {
    margin: 14mm;
  }
  body {
    margin: 0;
  }
`;
