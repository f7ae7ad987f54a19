import { EditorView } from '@codemirror/view';

/** The look of texts that are edited in place: that of the page's other fields, and nothing of the library's own. */
export const expressionTheme = EditorView.theme({
  '&': { maxWidth: '100%', color: 'inherit', backgroundColor: 'transparent' },
  '&.cm-focused': { outline: 'none' },
  '.cm-scroller': { fontFamily: 'inherit', lineHeight: 'inherit', overflow: 'visible', minWidth: '0' },
  '.cm-content': { padding: '0', minWidth: '2.5rem', caretColor: 'currentColor', whiteSpace: 'break-spaces' },
  // The ring that all fields have.
  '.cm-content:focus-visible': { outline: '2px solid var(--focus)', outlineOffset: '3px', borderRadius: '2px' },
  '.cm-line': { padding: '0' },
  '.cm-placeholder': { color: 'var(--quiet)', fontStyle: 'normal' },
  '.tt-name': { color: 'var(--teal)', fontWeight: '550' },
  '.tt-number': { color: 'var(--plum)' },
  '.tt-fault': {
    textDecoration: 'underline wavy var(--rust) 1.5px',
    textUnderlineOffset: '0.28em',
    textDecorationSkipInk: 'none',
  },
  '.cm-tooltip': {
    zIndex: '4',
    border: '0',
    borderRadius: '4px',
    backgroundColor: 'var(--panel)',
    boxShadow: '0 0 0 1px var(--edge)',
  },
  '.cm-tooltip.cm-tooltip-autocomplete > ul': {
    fontFamily: 'inherit',
    fontSize: 'var(--body-size, 1rem)',
    maxHeight: '15rem',
    minWidth: '0',
    maxWidth: 'min(22rem, calc(100vw - 2rem))',
    padding: '0.3rem 0',
  },
  '.cm-tooltip.cm-tooltip-autocomplete > ul > li': {
    display: 'flex',
    flexWrap: 'wrap',
    gap: '0 0.8rem',
    alignItems: 'baseline',
    minHeight: '1.75rem',
    padding: '0.1rem 0.8rem',
    color: 'var(--ink)',
    lineHeight: 'inherit',
  },
  '.cm-tooltip.cm-tooltip-autocomplete > ul > li[aria-selected]': {
    backgroundColor: 'var(--raised)',
    color: 'var(--ink)',
    boxShadow: 'inset 3px 0 0 var(--rust)',
  },
  '.cm-completionMatchedText': { textDecoration: 'none', fontWeight: '650' },
  '.cm-completionDetail': {
    marginLeft: '0',
    fontStyle: 'normal',
    fontSize: 'var(--small)',
    color: 'var(--quiet)',
  },
});
